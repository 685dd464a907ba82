// The tree of all files that were read. It never changes once made: ids and references stay good. Children
// are added before parents; every node has a span. Meaning (types, units, bindings) lives in later steps'
// side tables.
#pragma once
#include "syntax/paths.hpp"
#include "syntax/tree_builds.hpp"

namespace mm {

/// Parts are many and small and lie in the list itself; what is boxed is few and large.
using Declaration =
    std::variant<PartDecl, Boxed<UseDecl>, Boxed<UnitDecl>, Boxed<CurrencyDecl>, Boxed<ChoiceDecl>,
                 Boxed<TableDecl>, Boxed<FormulaDecl>, Boxed<DesignationDecl>, Boxed<GroupDecl>,
                 Boxed<KindDecl>, Boxed<InterfaceDecl>, Boxed<RuleDecl>, Boxed<BuildDecl>>;

inline const PartDecl& unboxed(const PartDecl& part) { return part; }
template <class T>
const T& unboxed(const Boxed<T>& boxed) {
  return *boxed;
}

/// Calls visitor with the declared node itself.
template <class Visitor>
decltype(auto) visit_declaration(Visitor&& visitor, const Declaration& declaration) {
  return std::visit([&](const auto& node) -> decltype(auto) { return visitor(unboxed(node)); }, declaration);
}

/// The declared node where it is a T, or null.
template <class T>
const T* declared_as(const Declaration& declaration) {
  if constexpr (std::is_same_v<T, PartDecl>) {
    return std::get_if<PartDecl>(&declaration);
  } else {
    const auto* boxed = std::get_if<Boxed<T>>(&declaration);
    return boxed == nullptr ? nullptr : &**boxed;
  }
}

/// One file's statements in order.
struct FileTree {
  FileId file;
  std::vector<Declaration> declarations;  // their addresses are final when the file is read
  std::vector<Span> comments;             // in order, from '#' to the end of the line
};

/// Everything that was read. All files share the stores.
struct Tree {
  BlockStore<Expr, ExprId> exprs;
  BlockStore<Binder, BinderId> binders;
  BlockStore<Assignment, AssignmentId> assignments;
  BlockStore<FaceBlock, FaceBlockId> face_blocks;
  BlockStore<Value, ValueId> values;
  BlockStore<QuantitySyntax, QuantityId> quantities;
  BlockStore<Name, WordId> words;
  BlockStore<TextLiteral, TextId> texts;
  BlockStore<Evidence, EvidenceId> evidence;
  Paths paths;
  Names unit_texts;                            // of each UnitId
  Store<Run<UnitFactorSyntax>, UnitId> units;  // as products of their factors
  Runs<Name> names;                            // of paths in joins and the like
  Runs<UnitFactorSyntax> factors;
  Runs<char> characters;        // of texts with escapes
  std::vector<FileTree> files;  // a file that is used stands before the file that uses it

  std::string_view text(UnitId unit) const { return unit_texts.text(Symbol{unit.index}); }
  UnitSyntax unit_of(const QuantitySyntax& quantity) const;
  /// Null where the value says nothing of how it is known.
  const Evidence* evidence_of(const Value& value) const {
    return value.evidence ? &evidence[value.evidence] : nullptr;
  }
  Span span_of(const Assignment& assignment) const {
    const Span value = values[assignment.value].span;
    return {value.file, assignment.begin, value.end};
  }
};

/// Drops what nobody reads once it is bound, and a large build has most of: values as they are put together,
/// what a build fits, joins, reworks, waives and expects. Texts, expressions and every other span stay.
void drop_what_is_bound(Tree& tree);

/// An assignment's path with the places of its names; the span is of what stands before the value.
struct WrittenPath {
  std::vector<Name> names;
  std::size_t outer = 0;  // how many leading names stand before enclosing blocks
  Span span;
};
WrittenPath written_path(const Tree& tree, const Names& names, const Assignment& assignment);

}  // namespace mm

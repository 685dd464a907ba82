// What the parser knows while it reads one file. The actions put nodes together here; no PEGTL.
#pragma once
#include <cstdint>
#include <optional>
#include <string_view>
#include <tuple>
#include <vector>

#include "base/characters.hpp"
#include "syntax/expr_children.hpp"
#include "syntax/failure.hpp"
#include "syntax/parse.hpp"

namespace mm {

class Builder;

// Constructs that are read in pieces and have no node of their own.
struct ExprItem {
  ExprId id;
  unsigned prefixes = 0;           // unary minuses or nots before it
  std::uint32_t prefix_begin = 0;  // of the first
};
struct PrefixedOperand {  // [-] primary
  unsigned prefixes = 0;
  std::uint32_t prefix_begin = 0;
  void open(Builder& builder, std::uint32_t at);
};
struct Chain {  // operand {operator operand}
  std::vector<BinaryOp> ops;
};
struct Logic : Chain {};
struct LogicOperand {
  unsigned prefixes = 0;
  std::uint32_t prefix_begin = 0;
};
struct Relation {
  BinaryOp op = BinaryOp::eq;
};
struct NameUse {
  Name name;
  bool called = false;
  std::optional<LookupExpr> lookup;
};
struct Bracketed {
  std::optional<Name> table;
};
struct Nested {  // one more level of nesting
  void open(Builder& builder, std::uint32_t at);
};
struct Clauses {  // of a quantifier or aggregate
  ExprId where, body;
  AggregateKind kind = AggregateKind::sum;
  bool has_binder = false;
};
struct Template {
  std::vector<TemplatePiece> pieces;
};

struct AssignmentDraft {
  PathId path;
  Span path_span;
  ValueId value;  // none where a block stands in its place
};

class Builder {
 public:
  Builder(FileId file, const Sources& sources, Names& names, Tree& tree, Messages& messages);

  // places
  std::uint32_t offset(const char* at) const { return static_cast<std::uint32_t>(at - bytes.data()); }
  /// From begin to `end`, without the white space before it.
  Span span(std::uint32_t begin, std::uint32_t end) const {
    if (end == space_end && space_begin >= begin)
      end = space_begin;
    else if (end == earlier_space_end && earlier_space_begin >= begin)
      end = earlier_space_begin;  // a word behind it was tried and given back
    return {file, begin, end};
  }
  std::string_view text(Span s) const { return bytes.substr(s.begin, s.end - s.begin); }

  std::uint32_t text_begin(std::uint32_t at) const;  // of the text that `at` is in, on its line
  std::string character(std::uint32_t at) const;     // the whole character there

  // leaves
  Name name(Span word) { return {names.intern(text(word)), word}; }
  TextLiteral literal(std::string_view matched);
  TextId text_literal(std::string_view matched) { return tree.texts.add(literal(matched)); }
  DateSyntax date(std::string_view matched);  // throws Failure for a day that is none
  QuantitySyntax take_quantity() {
    const QuantitySyntax result = quantities.back();
    quantities.pop_back();
    return result;
  }
  QuantityId keep_quantity() { return tree.quantities.add(take_quantity()); }
  UnitSyntax read_unit(std::string_view matched);
  Path take_path(Span where);
  /// The assignments that were read since they were last taken.
  IdRange<AssignmentId> take_assignments();
  void drop_pieces();

  // expressions
  template <typename Form>
  ExprId make(Form form, Span where) {
    unsigned depth = 1;
    const auto count = [&](ExprId child) {
      depth = std::max(depth, depths_[child.index - first_expr_] + 1U);
    };
    ExprChildren<decltype(count)>{count, tree.binders}(form);
    note_depth(depth, where);
    return tree.exprs.add({std::move(form), where});
  }
  template <typename Form>
  void push(Form form, Span where) {
    items.push_back({make(std::move(form), where)});
  }
  ExprId pop();
  std::vector<ExprId> pop_from(std::size_t mark);
  Span span_of(ExprId id) const { return tree.exprs[id].span; }
  void nest(std::uint32_t at);  // throws Failure beyond max_nesting
  Failure too_deep(std::uint32_t at) const;

  /// The innermost open construct of type T.
  template <typename T>
  T& get() {
    return *std::get<T*>(slots);
  }

  FileId file;
  std::string_view bytes;
  const Sources& sources;
  Names& names;
  Tree& tree;
  Messages& messages;

  std::tuple<PrefixedOperand*, Chain*, Logic*, LogicOperand*, Relation*, NameUse*, Bracketed*, Nested*,
             Template*, Binder*, Clauses*, InRangeExpr*, Value*, AssignmentDraft*, TypeSyntax*,
             AttributeDecl*, LetDecl*, RequirementDecl*, UseDecl*, UnitDecl*, CurrencyDecl*, ChoiceDecl*,
             TableDecl*, FormulaDecl*, FormDecl*, DesignationDecl*, GroupDecl*, FaceDecl*, KindDecl*,
             SideDecl*, InterfaceDecl*, RuleDecl*, PartDecl*, PlaceDecl*, FitDecl*, JoinDecl*, ReworkDecl*,
             WaiveDecl*, StageDecl*, ExpectDecl*, BuildDecl*>
      slots{};

  // finished pieces that wait for the construct they belong to
  std::vector<ExprItem> items;
  std::vector<QuantitySyntax> quantities;
  std::vector<Binder> binders;
  std::vector<AttributeDecl> attributes;
  std::vector<LetDecl> lets;
  std::vector<RequirementDecl> requirements;
  std::size_t assignments_taken;  // of the tree's
  std::vector<Name> path_names;   // of the path being read
  FaceBlockId face_block;         // round an assignment
  std::vector<ValueId> values_read;
  std::vector<ValueId> cells;  // of the table being read
  bool column_range = false;
  std::vector<Name> groups;
  std::vector<PatternPiece> pattern;
  std::vector<TemplatePiece> template_pieces;
  TypeSyntax type;
  Span number;  // read last, without sign
  UnitSyntax unit;
  FileTree out;

  std::size_t max_nesting = usual_nesting;
  unsigned nesting = 0;
  bool broken = false;                // the construct's head was wrong: its node is dropped
  std::vector<std::uint32_t> blocks;  // where they were opened, for the message that a brace is missing
  std::uint32_t space_begin = 0, space_end = 0;                  // the white space read last
  std::uint32_t earlier_space_begin = 0, earlier_space_end = 0;  // and before that
  unsigned errors = 0;
  Messages::Mark at_first;                       // before any of this file's
  std::uint32_t doubtful = 0, doubtful_end = 0;  // an attribute whose value, a word, ended on a later line
  std::uint32_t read_on_at = 0;                  // behind a wrong statement, on its line
  bool end_reported = false;                     // that the file ends inside a block
  unsigned strange = 0;                          // statements read first that begin with no known word
  bool closed_early = false;                     // a build, by a '}' too many, which was reported
  std::string_view home_reported;                // of statements outside of any block that belong in one

 private:
  Run<UnitFactorSyntax> read_factors(std::string_view written);
  void note_depth(unsigned depth, Span where);  // throws Failure beyond max_expression_depth

  std::vector<std::uint16_t> depths_;  // of this file's expressions
  std::size_t first_expr_;
};

/// `matched` with its escapes resolved, put at the end of `out`.
void append_literal(std::string& out, std::string_view matched);
/// In 12..24 mm the lower end takes the unit of the upper one.
void lend_unit(Builder& builder, ExprId lo, ExprId hi);

/// Cuts the builder's cells into the table's rows; a row that is too short or too long is reported.
void make_rows(Builder& builder, TableDecl& table);
/// A text with expressions in it may not run on over a line end.
inline constexpr std::string_view one_line_hint = "write it on one line; \\n in it stands for a line end";
void one_line(Builder& builder, Span text);
/// The only name of a path; throws Failure when there are several.
Name one_name(const Builder& builder, const Path& path);

/// Builds the tree of a flat chain: left-associative, ^ before unary minus before * / before + -, and ^ to
/// the right.
ExprId fold_arithmetic(Builder& builder, std::size_t mark, const std::vector<BinaryOp>& ops);
/// The same for not, and, or.
ExprId fold_logic(Builder& builder, std::size_t mark, const std::vector<BinaryOp>& ops);

}  // namespace mm

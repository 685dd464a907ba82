// Between the tree and its text: statements as strings with places where a line may break, and blocks of
// them.
#pragma once
#include <string>
#include <vector>

#include "syntax/tree.hpp"

namespace mm {

/// Where a line that is too long may break; a blank otherwise. No text holds these bytes: the loader refuses
/// them.
inline constexpr char soft_break = '\0';
inline constexpr char weak_break = '\xFF';  // only where soft breaks do not do

/// One statement: `head`, and when it is a block `{ items } tail`.
struct PrintNode {
  Span span;
  std::string head;
  std::uint32_t head_end = 0;  // in the source, of what stands before '{'
  bool is_block = false;
  std::vector<PrintNode> items;
  std::string tail;
};

/// Turns nodes of one file into strings.
class Wording {
 public:
  Wording(const Tree& tree, const Sources& sources, const Names& names)
      : tree_(tree), sources_(sources), names_(names) {}

  PrintNode declaration(const Declaration& declaration) const;
  /// `level` is how tightly what stands round it binds; `last` that nothing follows it before a bracket or
  /// the end.
  std::string expression(ExprId id, int level = 0, bool last = true) const;

 private:
  std::string raw(Span span) const { return std::string(sources_.text(span)); }
  std::string name(const Name& n) const { return std::string(names_.text(n.symbol)); }
  std::string text(const std::optional<TextLiteral>& t) const {
    return t ? std::string(" ").append(raw(t->span)) : std::string();
  }
  std::string text(const TextLiteral& t) const { return raw(t.span); }
  std::string list(const std::vector<Name>& names) const;
  std::string path(const Path& p, std::size_t from = 0) const;
  std::string paths(const std::vector<Path>& list, std::string_view between) const;
  std::string quantity(const QuantitySyntax& q) const;
  std::string quantity(QuantityId id) const { return quantity(tree_.quantities[id]); }
  std::string spread(const QuantityValue& v) const;
  std::string range(const RangeValue& v) const;
  std::string date(const DateSyntax& d) const;
  std::string value(ValueId id) const;
  std::string type(const TypeSyntax& t) const;
  std::string binder(const Binder& b) const;
  std::string where(ExprId id, bool last) const;
  std::string face(ExprId id, bool last) const;
  std::string guarded(ExprId id, int level) const;  // no aggregate at its end takes a where or for behind it
  std::string list(const std::vector<ExprId>& ids) const;

  std::string form_of(const QuantityExpr& e, bool last) const;
  std::string form_of(const TextExpr& e, bool last) const;
  std::string form_of(const DateExpr& e, bool last) const;
  std::string form_of(const BoolExpr& e, bool last) const;
  std::string form_of(const NameExpr& e, bool last) const;
  std::string form_of(const FieldExpr& e, bool last) const;
  std::string form_of(const CallExpr& e, bool last) const;
  std::string form_of(const UnaryExpr& e, bool last) const;
  std::string form_of(const BinaryExpr& e, bool last) const;
  std::string form_of(const WithinExpr& e, bool last) const;
  std::string form_of(const InRangeExpr& e, bool last) const;
  std::string form_of(const InTableExpr& e, bool last) const;
  std::string form_of(const IfExpr& e, bool last) const;
  std::string form_of(const LookupExpr& e, bool last) const;
  std::string form_of(const QuantifierExpr& e, bool last) const;
  std::string form_of(const AggregateExpr& e, bool last) const;
  std::string form_of(const MateExpr& e, bool last) const;
  std::string form_of(const PartOfExpr& e, bool last) const;

  PrintNode simple(Span span, std::string head) const {
    return {span, std::move(head), span.end, false, {}, {}};
  }
  PrintNode node(const UseDecl& d) const;
  PrintNode node(const UnitDecl& d) const;
  PrintNode node(const CurrencyDecl& d) const;
  PrintNode node(const ChoiceDecl& d) const;
  PrintNode node(const TableDecl& d) const;
  PrintNode node(const FormulaDecl& d) const;
  PrintNode node(const DesignationDecl& d) const;
  PrintNode node(const FormDecl& d) const;
  PrintNode node(const GroupDecl& d) const;
  PrintNode node(const KindDecl& d) const;
  PrintNode node(const FaceDecl& d) const;
  PrintNode node(const AttributeDecl& d) const;
  PrintNode node(const LetDecl& d) const;
  PrintNode node(const RequirementDecl& d) const;
  PrintNode node(const SideDecl& d) const;
  PrintNode node(const InterfaceDecl& d) const;
  PrintNode node(const RuleDecl& d) const;
  PrintNode node(const PartDecl& d) const;
  PrintNode node(const PlaceDecl& d) const;
  PrintNode node(const FitDecl& d) const;
  PrintNode node(const JoinDecl& d) const;
  PrintNode node(const ReworkDecl& d) const;
  PrintNode node(const WaiveDecl& d) const;
  PrintNode node(const StageDecl& d) const;
  PrintNode node(const ExpectDecl& d) const;
  PrintNode node(const BuildDecl& d) const;

  template <typename T>
  void add(std::vector<PrintNode>& items, const std::vector<T>& list) const {
    for (const T& item : list) items.push_back(node(item));
  }
  void add_groups(std::vector<PrintNode>& items, const std::vector<Name>& groups) const;
  PrintNode block(Span span, std::string head, std::uint32_t head_end, std::vector<PrintNode> items) const;
  struct SheetLine {
    WrittenPath path;
    Span span;
    std::string value;
  };
  std::vector<PrintNode> assignments(IdRange<AssignmentId> list) const;
  std::vector<PrintNode> assignments(const SheetLine* first, const SheetLine* last, std::size_t level) const;
  std::uint32_t closing_brace(FileId file, std::uint32_t after) const;

  const Tree& tree_;
  const Sources& sources_;
  const Names& names_;
};

/// Lays one file's statements out as lines, with its comments and blank lines.
std::string lay_out(const std::vector<PrintNode>& nodes, const FileTree& file, const Sources& sources);

}  // namespace mm

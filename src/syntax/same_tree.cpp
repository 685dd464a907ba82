// Every node is a tuple of its parts here, once; comparing them is generic.
#include "syntax/same_tree.hpp"

#include <algorithm>
#include <tuple>

namespace mm {

namespace {

#define MM_PARTS(type, ...) \
  auto parts(const type& x) { return std::tie(__VA_ARGS__); }

MM_PARTS(Name, x.symbol)
MM_PARTS(Path, x.names)
MM_PARTS(TextLiteral, x.text)
MM_PARTS(UnitFactorSyntax, x.name, x.power)
MM_PARTS(UnitSyntax, x.id)
MM_PARTS(Date, x.year, x.month, x.day)
MM_PARTS(DateSyntax, x.date)
MM_PARTS(Evidence, x.grade, x.note)
MM_PARTS(RangeValue, x.lo, x.hi)
MM_PARTS(WordsValue, x.words)
MM_PARTS(TextValue, x.text)
MM_PARTS(DateValue, x.date)
MM_PARTS(AdjustableValue, x.quantities, x.form)
MM_PARTS(Value, x.form, x.evidence)
MM_PARTS(Assignment, x.path, x.value)
MM_PARTS(QuantityExpr, x.quantity)
MM_PARTS(TextExpr, x.text)
MM_PARTS(DateExpr, x.date)
MM_PARTS(BoolExpr, x.value)
MM_PARTS(NameExpr, x.name)
MM_PARTS(FieldExpr, x.object, x.field)
MM_PARTS(CallExpr, x.function, x.arguments)
MM_PARTS(UnaryExpr, x.op, x.operand)
MM_PARTS(BinaryExpr, x.op, x.left, x.right)
MM_PARTS(WithinExpr, x.left, x.tolerance, x.right)
MM_PARTS(InRangeExpr, x.value, x.lo, x.hi)
MM_PARTS(InTableExpr, x.values, x.table)
MM_PARTS(IfExpr, x.condition, x.then_branch, x.else_branch)
MM_PARTS(LookupExpr::Condition, x.column, x.op, x.value)
MM_PARTS(LookupExpr, x.table, x.conditions, x.column)
MM_PARTS(Binder, x.variable, x.domain, x.range_lo, x.range_hi, x.reach_from, x.reach_through)
MM_PARTS(QuantifierExpr, x.kind, x.binder, x.where, x.body)
MM_PARTS(AggregateExpr, x.kind, x.term, x.binder, x.where)
MM_PARTS(MateExpr, x.face)
MM_PARTS(PartOfExpr, x.face)
MM_PARTS(Expr, x.form)
MM_PARTS(TypeSyntax, x.unit, x.choices, x.range_key)
MM_PARTS(DefaultSpread, x.grade, x.amount)
MM_PARTS(AttributeDecl, x.name, x.type, x.range, x.doc, x.measure, x.spreads)
MM_PARTS(LetDecl, x.name, x.value)
MM_PARTS(TemplatePiece, x.literal, x.expr)
MM_PARTS(RequirementDecl, x.weight, x.name, x.test, x.when, x.because, x.source, x.remedy, x.because_pieces,
         x.remedy_pieces, x.settles_at, x.hazard)
MM_PARTS(UseDecl, x.path)
MM_PARTS(UnitDecl, x.name, x.definition)
MM_PARTS(CurrencyDecl, x.name)
MM_PARTS(ChoiceDecl, x.name, x.choices)
MM_PARTS(TableDecl, x.name, x.doc, x.columns, x.rows, x.sources)
MM_PARTS(FormulaDecl::Parameter, x.name, x.type)
MM_PARTS(FormulaDecl, x.name, x.parameters, x.result, x.body, x.source)
MM_PARTS(PatternPiece, x.literal, x.optional_literal, x.field, x.type)
MM_PARTS(FormDecl, x.name, x.patterns, x.pattern_texts, x.computed)
MM_PARTS(DesignationDecl, x.name, x.doc, x.forms)
MM_PARTS(GroupDecl, x.name, x.attributes)
MM_PARTS(FaceDecl, x.names, x.interface, x.side, x.optional)
MM_PARTS(KindDecl, x.name, x.doc, x.groups, x.faces, x.attributes, x.lets)
MM_PARTS(SideDecl, x.name, x.many, x.groups, x.attributes)
MM_PARTS(InterfaceDecl, x.name, x.doc, x.sides, x.lets, x.requirements)
MM_PARTS(RuleDecl, x.name, x.doc, x.binders, x.where, x.lets, x.requirements)
MM_PARTS(PartDecl, x.name, x.doc, x.kind, x.assignments)
MM_PARTS(PlaceDecl, x.names, x.hand)
MM_PARTS(FitDecl, x.name, x.parts, x.is_slot, x.places, x.each, x.overrides)
MM_PARTS(JoinDecl::SideFill, x.side, x.faces)
MM_PARTS(JoinDecl, x.label, x.interface, x.faces, x.fills, x.places)
MM_PARTS(ReworkDecl, x.name, x.doc, x.target, x.assignments, x.done, x.by)
MM_PARTS(WaiveDecl, x.requirement, x.on, x.because, x.by, x.until)
MM_PARTS(StageDecl, x.name, x.doc, x.uses)
MM_PARTS(ExpectDecl, x.verdict, x.requirement, x.on, x.that)
MM_PARTS(BuildDecl, x.name, x.title, x.is_trial, x.uses, x.parts, x.places, x.fits, x.joins, x.reworks,
         x.waivers, x.stages, x.expects)

#undef MM_PARTS

class Comparer {
 public:
  Comparer(const Tree& a, const Tree& b, const Sources& sources) : a_(a), b_(b), sources_(sources) {}

  template <typename T>
  requires std::is_arithmetic_v<T> || std::is_enum_v<T>
  bool same(const T& a, const T& b) const { return a == b; }
  bool same(const std::string& a, const std::string& b) const { return a == b; }
  bool same(std::string_view a, std::string_view b) const { return a == b; }
  bool same(Symbol a, Symbol b) const { return a == b; }
  bool same(const UnknownValue&, const UnknownValue&) const { return true; }
  bool same(const QuantitySyntax& a, const QuantitySyntax& b) const {
    return a.negative() == b.negative() && sources_.text(a.number().span) == sources_.text(b.number().span) &&
           same(a.unit, b.unit);
  }
  bool same(const QuantityValue& a, const QuantityValue& b) const {
    return a.spread == b.spread && same(a.quantity, b.quantity) && same(a.plus(), b.plus()) &&
           same(a.minus(), b.minus());
  }
  bool same(ExprId a, ExprId b) const { return same_items(a_.exprs, a, b_.exprs, b); }
  bool same(ValueId a, ValueId b) const { return same_items(a_.values, a, b_.values, b); }
  bool same(BinderId a, BinderId b) const { return same_items(a_.binders, a, b_.binders, b); }
  bool same(QuantityId a, QuantityId b) const { return same_items(a_.quantities, a, b_.quantities, b); }
  bool same(WordId a, WordId b) const { return same_items(a_.words, a, b_.words, b); }
  bool same(TextId a, TextId b) const { return same_items(a_.texts, a, b_.texts, b); }
  bool same(EvidenceId a, EvidenceId b) const { return same_items(a_.evidence, a, b_.evidence, b); }
  bool same(UnitId a, UnitId b) const { return same_items(a_.units, a, b_.units, b); }
  bool same(AssignmentId a, AssignmentId b) const { return same_items(a_.assignments, a, b_.assignments, b); }
  bool same(PathId a, PathId b) const {
    for (; a && b; a = a_.paths.outer(a), b = b_.paths.outer(b))
      if (a_.paths.last(a) != b_.paths.last(b)) return false;
    return a.is_none() && b.is_none();
  }
  template <typename T>
  bool same(const IdRange<T>& a, const IdRange<T>& b) const {
    if (a.size() != b.size()) return false;
    for (std::size_t i = 0; i < a.size(); ++i)
      if (!same(a[i], b[i])) return false;
    return true;
  }
  template <typename T>
  bool same(const std::optional<T>& a, const std::optional<T>& b) const {
    return a.has_value() == b.has_value() && (!a || same(*a, *b));
  }
  template <typename T>
  bool same(const Boxed<T>& a, const Boxed<T>& b) const {
    return a.has_value() == b.has_value() && (!a || same(*a, *b));
  }
  template <typename T>
  bool same(const Run<T>& a, const Run<T>& b) const {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                      [&](const T& x, const T& y) { return same(x, y); });
  }
  template <typename T>
  bool same(const std::deque<T>& a, const std::deque<T>& b) const {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                      [&](const T& x, const T& y) { return same(x, y); });
  }
  template <typename T>
  bool same(const std::vector<T>& a, const std::vector<T>& b) const {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                      [&](const T& x, const T& y) { return same(x, y); });
  }
  template <typename... T>
  bool same(const std::variant<T...>& a, const std::variant<T...>& b) const {
    if (a.index() != b.index()) return false;
    return std::visit([&](const auto& x) { return same(x, std::get<std::decay_t<decltype(x)>>(b)); }, a);
  }
  template <typename T>
  requires requires(const T& node) { parts(node); }
  bool same(const T& a, const T& b) const {
    return same_parts(parts(a), parts(b), std::make_index_sequence<std::tuple_size_v<decltype(parts(a))>>());
  }

 private:
  template <typename Items, typename IdT>
  bool same_items(const Items& in_a, IdT a, const Items& in_b, IdT b) const {
    return a.is_none() == b.is_none() && (a.is_none() || same(in_a[a], in_b[b]));
  }

  template <typename Parts, std::size_t... I>
  bool same_parts(const Parts& a, const Parts& b, std::index_sequence<I...>) const {
    return (same(std::get<I>(a), std::get<I>(b)) && ...);
  }

  const Tree& a_;
  const Tree& b_;
  const Sources& sources_;
};

std::vector<std::string_view> comments_of(const FileTree& file, const Sources& sources) {
  std::vector<std::string_view> result;
  for (const Span comment : file.comments) result.push_back(sources.text(comment));
  std::sort(result.begin(), result.end());
  return result;
}

}  // namespace

bool same_tree(const FileTree& a, const Tree& tree_a, const FileTree& b, const Tree& tree_b,
               const Sources& sources) {
  return Comparer(tree_a, tree_b, sources).same(a.declarations, b.declarations) &&
         comments_of(a, sources) == comments_of(b, sources);
}

}  // namespace mm

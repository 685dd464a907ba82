// Every node of the tree as a tuple of its parts, in order; what treats all nodes alike is written on these.
#pragma once
#include <algorithm>
#include <tuple>
#include <utility>

#include "syntax/tree.hpp"

namespace mm {

namespace node_parts {

/// The size of a struct of these members, in this order: of another one, a part is missing.
template <typename... Part>
constexpr std::size_t size_of_struct(std::tuple<Part&...>*) {
  std::size_t size = 0, align = 1;
  const auto up_to = [&](std::size_t to) { size = (size + to - 1) / to * to; };
  ((up_to(alignof(Part)), size += sizeof(Part), align = std::max(align, alignof(Part))), ...);
  up_to(align);
  return size;
}

#define MM_PARTS(type, ...)                                                                          \
  inline auto parts(type& x) { return std::tie(__VA_ARGS__); }                                       \
  inline auto parts(const type& x) { return std::tie(__VA_ARGS__); }                                 \
  static_assert(                                                                                     \
      size_of_struct(static_cast<decltype(parts(std::declval<type&>()))*>(nullptr)) == sizeof(type), \
      "a part is missing or not in its place");

MM_PARTS(Span, x.file, x.begin, x.end)
MM_PARTS(Name, x.symbol, x.span)
MM_PARTS(Path, x.names, x.span)
MM_PARTS(TextLiteral, x.text, x.span)
MM_PARTS(UnitFactorSyntax, x.name, x.power)
MM_PARTS(UnitSyntax, x.id, x.span)
MM_PARTS(QuantitySyntax, x.file, x.begin, x.end, x.number_begin, x.number_end, x.unit, x.unit_begin)
MM_PARTS(Date, x.year, x.month, x.day)
MM_PARTS(DateSyntax, x.date, x.span)
MM_PARTS(Evidence, x.grade, x.note, x.span)
MM_PARTS(QuantityValue, x.quantity, x.spread)
MM_PARTS(RangeValue, x.lo, x.hi)
MM_PARTS(WordsValue, x.words)
MM_PARTS(TextValue, x.text)
MM_PARTS(DateValue, x.date)
MM_PARTS(AdjustableValue, x.quantities, x.form)
MM_PARTS(Value, x.form, x.evidence, x.span)
MM_PARTS(Assignment, x.path, x.begin, x.block, x.value)
MM_PARTS(FaceBlock, x.path, x.begin, x.outer)
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
MM_PARTS(Binder, x.variable, x.domain, x.range_lo, x.range_hi, x.reach_from, x.reach_through, x.span)
MM_PARTS(QuantifierExpr, x.kind, x.binder, x.where, x.body)
MM_PARTS(AggregateExpr, x.kind, x.term, x.binder, x.where)
MM_PARTS(MateExpr, x.face)
MM_PARTS(PartOfExpr, x.face)
MM_PARTS(Expr, x.form, x.span, x.bracketed)
MM_PARTS(TypeSyntax, x.unit, x.choices, x.range_key, x.span)
MM_PARTS(DefaultSpread, x.grade, x.amount, x.span)
MM_PARTS(AttributeDecl, x.name, x.type, x.range, x.range_span, x.doc, x.measure, x.spreads, x.span)
MM_PARTS(LetDecl, x.name, x.value, x.span)
MM_PARTS(TemplatePiece, x.literal, x.expr)
MM_PARTS(RequirementDecl, x.weight, x.name, x.test, x.when, x.because, x.source, x.remedy, x.because_pieces,
         x.remedy_pieces, x.settles_at, x.hazard, x.span)
MM_PARTS(UseDecl, x.path, x.span)
MM_PARTS(UnitDecl, x.name, x.definition, x.span)
MM_PARTS(CurrencyDecl, x.name, x.span)
MM_PARTS(ChoiceDecl, x.name, x.choices, x.span)
MM_PARTS(TableDecl, x.name, x.doc, x.columns, x.rows, x.sources, x.span)
MM_PARTS(FormulaDecl::Parameter, x.name, x.type)
MM_PARTS(FormulaDecl, x.name, x.parameters, x.result, x.body, x.source, x.span)
MM_PARTS(PatternPiece, x.literal, x.optional_literal, x.field, x.type)
MM_PARTS(FormDecl, x.name, x.patterns, x.pattern_texts, x.computed, x.span)
MM_PARTS(DesignationDecl, x.name, x.doc, x.forms, x.span)
MM_PARTS(GroupDecl, x.name, x.attributes, x.span)
MM_PARTS(FaceDecl, x.names, x.interface, x.side, x.optional, x.span)
MM_PARTS(KindDecl, x.name, x.doc, x.groups, x.faces, x.attributes, x.lets, x.span)
MM_PARTS(SideDecl, x.name, x.many, x.groups, x.attributes, x.span)
MM_PARTS(InterfaceDecl, x.name, x.doc, x.sides, x.lets, x.requirements, x.span)
MM_PARTS(RuleDecl, x.name, x.doc, x.binders, x.where, x.lets, x.requirements, x.span)
MM_PARTS(PartDecl, x.name, x.doc, x.kind, x.assignments, x.span)
MM_PARTS(PlaceDecl, x.names, x.hand, x.span)
MM_PARTS(FitDecl, x.name, x.parts, x.is_slot, x.places, x.each, x.overrides, x.span)
MM_PARTS(JoinDecl::SideFill, x.side, x.faces)
MM_PARTS(JoinDecl, x.label, x.interface, x.faces, x.fills, x.places, x.span)
MM_PARTS(ReworkDecl, x.name, x.doc, x.target, x.assignments, x.done, x.by, x.span)
MM_PARTS(WaiveDecl, x.requirement, x.on, x.because, x.by, x.until, x.span)
MM_PARTS(StageDecl, x.name, x.doc, x.uses, x.span)
MM_PARTS(ExpectDecl, x.verdict, x.requirement, x.on, x.that, x.span)
MM_PARTS(BuildDecl, x.name, x.title, x.is_trial, x.uses, x.parts, x.places, x.fits, x.joins, x.reworks,
         x.waivers, x.stages, x.expects, x.span)

#undef MM_PARTS

}  // namespace node_parts

/// Calls visitor(part) for each part of a node; `node` may be const.
template <typename Node, typename Visitor>
requires requires(Node& node) { node_parts::parts(node); }
void for_each_part(Node& node, Visitor&& visitor) {
  std::apply([&](auto&... part) { (visitor(part), ...); }, node_parts::parts(node));
}

}  // namespace mm

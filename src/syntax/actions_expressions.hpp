// Actions of expressions. Seen by parse.cpp only.
#pragma once
#include "syntax/actions_lexis.hpp"

namespace mm {

// ---------------------------------------------------------------- what stands alone

MM_ON(term_date) { b.push(DateExpr{b.date(text)}, at); }
MM_END;
MM_ON(term_amount) { b.push(QuantityExpr{b.take_quantity()}, at); }
MM_END;
MM_ON(term_text) { b.push(TextExpr{b.literal(text)}, at); }
MM_END;
MM_ON(yes) { b.push(BoolExpr{true}, at); }
MM_END;
MM_ON(no) { b.push(BoolExpr{false}, at); }
MM_END;

// ---------------------------------------------------------------- names, fields, calls, look-ups

MM_ON(member_name) {
  const ExprId object = b.pop();
  b.push(FieldExpr{object, b.name(at)}, {b.file, b.span_of(object).begin, at.end});
}
MM_END;
MM_ON(used_name) { b.get<NameUse>().name = b.name(at); }
MM_END;
MM_ON(call_open) { b.get<NameUse>().called = true; }
MM_END;
MM_ON(lookup_open) { b.get<NameUse>().lookup.emplace(); }
MM_END;
MM_ON(lookup_column) { b.get<NameUse>().lookup->conditions.push_back({b.name(at), BinaryOp::eq, {}}); }
MM_END;
MM_ON(lookup_relation) {
  BinaryOp& op = b.get<NameUse>().lookup->conditions.back().op;
  const bool same = text.size() > 1 && text[1] == '=';
  if (text[0] == '<') op = same ? BinaryOp::le : BinaryOp::lt;
  if (text[0] == '>') op = same ? BinaryOp::ge : BinaryOp::gt;
}
MM_END;
MM_ON(lookup_value) { b.get<NameUse>().lookup->conditions.back().value = b.pop(); }
MM_END;
MM_ON(lookup_result) { b.get<NameUse>().lookup->column = b.name(at); }
MM_END;
MM_CONSTRUCT(name_use, NameUse) {
  if (node.lookup) {
    node.lookup->table = node.name;
    b.push(std::move(*node.lookup), at);
  } else if (node.called) {
    b.push(CallExpr{node.name, b.pop_from(mark)}, at);
  } else {
    b.push(NameExpr{node.name}, at);
  }
}
MM_END;
MM_ON(tuple_table) { b.get<Bracketed>().table = b.name(at); }
MM_END;
MM_CONSTRUCT(bracketed, Bracketed) {
  if (node.table) {
    b.push(InTableExpr{b.pop_from(mark), *node.table}, at);
  } else {
    Expr& inner = b.tree.exprs[b.items.back().id];
    inner.span = at;
    inner.bracketed = true;
  }
}
MM_END;

// ---------------------------------------------------------------- operators

MM_ON(minus_sign) {
  PrefixedOperand& operand = b.get<PrefixedOperand>();
  if (operand.prefixes++ == 0) operand.prefix_begin = at.begin;
}
MM_END;
MM_CONSTRUCT(operand, PrefixedOperand) {
  b.items.back().prefixes = node.prefixes;
  b.items.back().prefix_begin = node.prefix_begin;
}
MM_END;
MM_ON(plus_op) { b.get<Chain>().ops.push_back(BinaryOp::add); }
MM_END;
MM_ON(minus_op) { b.get<Chain>().ops.push_back(BinaryOp::sub); }
MM_END;
MM_ON(multiply) { b.get<Chain>().ops.push_back(BinaryOp::mul); }
MM_END;
MM_ON(divide) { b.get<Chain>().ops.push_back(BinaryOp::div); }
MM_END;
MM_ON(power) { b.get<Chain>().ops.push_back(BinaryOp::pow); }
MM_END;
/// A single operand without a minus stands for itself.
inline bool stands_alone(const Builder& b, const Chain& chain) {
  return chain.ops.empty() && b.items.back().prefixes == 0;
}
MM_CONSTRUCT(arithmetic, Chain) {
  if (!stands_alone(b, node)) b.items.push_back({fold_arithmetic(b, mark, node.ops)});
}
MM_END;
MM_CONSTRUCT(term_of, Chain) {
  if (!stands_alone(b, node)) b.items.push_back({fold_arithmetic(b, mark, node.ops)});
}
MM_END;
MM_ON(reach_start) { b.get<Binder>().reach_from = fold_arithmetic(b, b.items.size() - 1, {}); }
MM_END;

MM_ON(equal_op) { b.get<Relation>().op = BinaryOp::eq; }
MM_END;
MM_ON(unequal_op) { b.get<Relation>().op = BinaryOp::ne; }
MM_END;
MM_ON(less_op) { b.get<Relation>().op = BinaryOp::lt; }
MM_END;
MM_ON(at_most_op) { b.get<Relation>().op = BinaryOp::le; }
MM_END;
MM_ON(greater_op) { b.get<Relation>().op = BinaryOp::gt; }
MM_END;
MM_ON(at_least_op) { b.get<Relation>().op = BinaryOp::ge; }
MM_END;
MM_CONSTRUCT(comparing, Relation) {
  const ExprId right = b.pop();
  const ExprId left = b.pop();
  b.push(BinaryExpr{node.op, left, right}, {b.file, b.span_of(left).begin, at.end});
}
MM_END;
MM_ON(within) {
  const ExprId right = b.pop();
  const ExprId tolerance = b.pop();
  const ExprId left = b.pop();
  b.push(WithinExpr{left, tolerance, right}, {b.file, b.span_of(left).begin, at.end});
}
MM_END;
MM_ON(in_high) { b.get<InRangeExpr>().hi = b.pop(); }
MM_END;
MM_CONSTRUCT(in, InRangeExpr) {
  const ExprId domain = b.pop();
  const ExprId value = b.pop();
  const Span where{b.file, b.span_of(value).begin, at.end};
  if (node.hi) {
    lend_unit(b, domain, node.hi);
    b.push(InRangeExpr{value, domain, node.hi}, where);
  } else if (const auto* table = std::get_if<NameExpr>(&b.tree.exprs[domain].form)) {
    const Name name = table->name;
    b.push(InTableExpr{{value}, name}, where);
  } else {
    const Span wrong = b.span_of(domain);
    throw Failure{Code::not_a_range_or_table,          wrong.begin, wrong.end, {},
                  "as x in 3 mm..5 mm, or x in TABLE", {}};
  }
}
MM_END;

MM_ON(not_word) {
  LogicOperand& operand = b.get<LogicOperand>();
  if (operand.prefixes++ == 0) operand.prefix_begin = at.begin;
}
MM_END;
MM_CONSTRUCT(logic_operand, LogicOperand) {
  b.items.back().prefixes = node.prefixes;
  b.items.back().prefix_begin = node.prefix_begin;
}
MM_END;
MM_ON(and_word) { b.get<Logic>().ops.push_back(BinaryOp::logical_and); }
MM_END;
MM_ON(or_word) { b.get<Logic>().ops.push_back(BinaryOp::logical_or); }
MM_END;
MM_CONSTRUCT(expression, Logic) {
  if (!stands_alone(b, node)) b.items.push_back({fold_logic(b, mark, node.ops)});
}
MM_END;

// ---------------------------------------------------------------- if, mate of, part_of

MM_ON(choice_of_two) {
  const ExprId otherwise = b.pop();
  const ExprId then = b.pop();
  const ExprId condition = b.pop();
  b.push(IfExpr{condition, then, otherwise}, at);
}
MM_END;
MM_CONSTRUCT(mate_of, Nested) { b.push(MateExpr{b.pop()}, at); }
MM_END;
MM_CONSTRUCT(part_of, Nested) { b.push(PartOfExpr{b.pop()}, at); }
MM_END;

// ---------------------------------------------------------------- quantifiers and aggregates

MM_ON(bound_name) { b.get<Binder>().variable = b.name(at); }
MM_END;
MM_ON(bound_kind) { b.get<Binder>().domain = b.name(at); }
MM_END;
MM_ON(reach_interface) { b.get<Binder>().reach_through.push_back(b.name(at)); }
MM_END;
MM_ON(domain_low) { b.get<Binder>().range_lo = b.pop(); }
MM_END;
MM_ON(domain_high) { b.get<Binder>().range_hi = b.pop(); }
MM_END;

struct binder_action : construct<Binder> {
  static void done(Builder& b, Binder& node, Span at, std::size_t) {
    if (!node.domain && !node.range_lo) node.domain = std::exchange(node.variable, std::nullopt);
    if (node.range_lo) lend_unit(b, node.range_lo, node.range_hi);
    node.span = at;
    b.binders.push_back(std::move(node));
  }
};
template <>
struct action<g::any_binder> : binder_action {};
template <>
struct action<g::count_binder> : binder_action {};
template <>
struct action<g::kind_binder> : binder_action {};

MM_ON(where_test) { b.get<Clauses>().where = b.pop(); }
MM_END;
MM_ON(has_test) { b.get<Clauses>().body = b.pop(); }
MM_END;
MM_ON(aggregate_word) {
  b.get<Clauses>().kind = text == "sum"   ? AggregateKind::sum
                          : text == "min" ? AggregateKind::min
                                          : AggregateKind::max;
}
MM_END;
MM_ON(aggregate_term) { b.get<Clauses>().body = b.pop(); }
MM_END;
MM_ON(aggregate_for) { b.get<Clauses>().has_binder = true; }
MM_END;

inline Binder take_binder(Builder& b) {
  Binder binder = std::move(b.binders.back());
  b.binders.pop_back();
  return binder;
}
inline BinderId keep_binder(Builder& b) { return b.tree.binders.add(take_binder(b)); }
MM_CONSTRUCT(some, Clauses) {
  b.push(QuantifierExpr{QuantifierKind::some, keep_binder(b), node.where, node.body}, at);
}
MM_END;
MM_CONSTRUCT(every, Clauses) {
  b.push(QuantifierExpr{QuantifierKind::every, keep_binder(b), node.where, node.body}, at);
}
MM_END;
MM_CONSTRUCT(count_of, Clauses) {
  b.push(AggregateExpr{AggregateKind::count, {}, keep_binder(b), node.where}, at);
}
MM_END;
MM_CONSTRUCT(aggregate_of, Clauses) {
  const BinderId binder = node.has_binder ? keep_binder(b) : BinderId::none();
  b.push(AggregateExpr{node.kind, node.body, binder, node.where}, at);
}
MM_END;

// ---------------------------------------------------------------- templates

struct template_literal {
  template <typename Input>
  static void apply(const Input& in, Builder& b) {
    auto& pieces = b.get<Template>().pieces;
    if (pieces.empty() || pieces.back().expr) pieces.emplace_back();
    append_literal(pieces.back().literal, view(in));
  }
};
MM_ON(hole_value) { b.get<Template>().pieces.push_back({"", b.pop()}); }
MM_END;

}  // namespace mm

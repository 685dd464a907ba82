// The expressions directly under an expression, in source order; absent ones are passed over.
#pragma once
#include "syntax/tree.hpp"

namespace mm {

template <typename Visit>
struct ExprChildren {
  Visit& visit;
  const BlockStore<Binder, BinderId>& binders;

  void one(ExprId id) const {
    if (id) visit(id);
  }
  void all(const std::vector<ExprId>& ids) const {
    for (const ExprId id : ids) one(id);
  }
  void binder(BinderId id) const {
    if (!id) return;
    const Binder& b = binders[id];
    one(b.range_lo);
    one(b.range_hi);
    one(b.reach_from);
  }

  void operator()(const QuantityExpr&) const {}
  void operator()(const TextExpr&) const {}
  void operator()(const DateExpr&) const {}
  void operator()(const BoolExpr&) const {}
  void operator()(const NameExpr&) const {}
  void operator()(const FieldExpr& e) const { one(e.object); }
  void operator()(const CallExpr& e) const { all(e.arguments); }
  void operator()(const UnaryExpr& e) const { one(e.operand); }
  void operator()(const BinaryExpr& e) const {
    one(e.left);
    one(e.right);
  }
  void operator()(const WithinExpr& e) const {
    one(e.left);
    one(e.tolerance);
    one(e.right);
  }
  void operator()(const InRangeExpr& e) const {
    one(e.value);
    one(e.lo);
    one(e.hi);
  }
  void operator()(const InTableExpr& e) const { all(e.values); }
  void operator()(const IfExpr& e) const {
    one(e.condition);
    one(e.then_branch);
    one(e.else_branch);
  }
  void operator()(const LookupExpr& e) const {
    for (const auto& condition : e.conditions) one(condition.value);
  }
  void operator()(const QuantifierExpr& e) const {
    binder(e.binder);
    one(e.where);
    one(e.body);
  }
  void operator()(const AggregateExpr& e) const {
    one(e.term);
    binder(e.binder);
    one(e.where);
  }
  void operator()(const MateExpr& e) const { one(e.face); }
  void operator()(const PartOfExpr& e) const { one(e.face); }
};

/// Calls visit(ExprId) for each child.
template <typename Visit>
void for_each_child(const Tree& tree, const Expr& expr, Visit&& visit) {
  std::visit(ExprChildren<std::remove_reference_t<Visit>>{visit, tree.binders}, expr.form);
}

}  // namespace mm

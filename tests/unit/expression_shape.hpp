// The structure of a parsed expression, spelled apart from the printer.
#pragma once
#include "syntax_help.hpp"

namespace mm_test {

using namespace mm;

/// An expression's structure with every operation in brackets, apart from the printer.
class Shape {
 public:
  explicit Shape(const Parsed& parsed) : p_(parsed) {}
  std::string of(ExprId id) const {
    return id ? std::visit([&](const auto& e) { return form(e); }, p_.tree.exprs[id].form) : "-";
  }

 private:
  std::string list(const std::vector<ExprId>& ids) const {
    std::string result;
    for (const ExprId id : ids) result += " " + of(id);
    return result;
  }
  std::string binder(const Binder& b) const {
    std::string result = "<";
    if (b.variable) result += p_.name(*b.variable) + ":";
    if (b.domain) result += p_.name(*b.domain);
    if (b.range_lo) result += of(b.range_lo) + ".." + of(b.range_hi);
    if (b.reach_from) result += " from " + of(b.reach_from);
    for (const Name& n : b.reach_through) result += " " + p_.name(n);
    return result + ">";
  }
  std::string unit(UnitId id) const {
    std::string result;
    if (!id) return result;
    for (const auto& factor : p_.tree.units[id])
      result += ":" + p_.name(factor.name) + std::to_string(factor.power);
    return result;
  }
  std::string form(const QuantityExpr& e) const {
    return p_.text(e.quantity.number().span) + unit(e.quantity.unit);
  }
  std::string form(const TextExpr& e) const { return "'" + std::string(e.text.text) + "'"; }
  std::string form(const DateExpr& e) const { return p_.text(e.date.span); }
  std::string form(const BoolExpr& e) const { return e.value ? "yes" : "no"; }
  std::string form(const NameExpr& e) const { return p_.name(e.name); }
  std::string form(const FieldExpr& e) const { return of(e.object) + "." + p_.name(e.field); }
  std::string form(const CallExpr& e) const { return "(" + p_.name(e.function) + list(e.arguments) + ")"; }
  std::string form(const UnaryExpr& e) const {
    return (e.op == UnaryOp::negate ? "(neg " : "(not ") + of(e.operand) + ")";
  }
  std::string form(const BinaryExpr& e) const {
    constexpr const char* names[] = {"+", "-", "*", "/", "^", "=", "!=", "<", "<=", ">", ">=", "and", "or"};
    return "(" + of(e.left) + " " + names[static_cast<std::size_t>(e.op)] + " " + of(e.right) + ")";
  }
  std::string form(const WithinExpr& e) const {
    return "(within" + list({e.left, e.tolerance, e.right}) + ")";
  }
  std::string form(const InRangeExpr& e) const { return "(in" + list({e.value, e.lo, e.hi}) + ")"; }
  std::string form(const InTableExpr& e) const {
    return "(in-table" + list(e.values) + " " + p_.name(e.table) + ")";
  }
  std::string form(const IfExpr& e) const {
    return "(if" + list({e.condition, e.then_branch, e.else_branch}) + ")";
  }
  std::string form(const LookupExpr& e) const {
    std::string result = "(" + p_.name(e.table);
    for (const auto& c : e.conditions)
      result += " " + p_.name(c.column) +
                (c.op == BinaryOp::eq   ? "="
                 : c.op == BinaryOp::ge ? ">="
                                        : "?") +
                of(c.value);
    return result + " ." + p_.name(e.column) + ")";
  }
  std::string form(const QuantifierExpr& e) const {
    return (e.kind == QuantifierKind::some ? "(some " : "(every ") + binder(p_.tree.binders[e.binder]) +
           list({e.where, e.body}) + ")";
  }
  std::string form(const AggregateExpr& e) const {
    constexpr const char* names[] = {"count", "sum", "min", "max"};
    return std::string("(") + names[static_cast<std::size_t>(e.kind)] + " " + of(e.term) + " " +
           (e.binder ? binder(p_.tree.binders[e.binder]) : "<>") + " " + of(e.where) + ")";
  }
  std::string form(const MateExpr& e) const { return "(mate " + of(e.face) + ")"; }
  std::string form(const PartOfExpr& e) const { return "(part_of " + of(e.face) + ")"; }

  const Parsed& p_;
};

inline std::string shape(const std::string& expression) {
  const Parsed parsed("rule r { need n: " + expression + " }");
  if (!parsed.clean()) return parsed.said();
  return Shape(parsed).of(parsed.only<RuleDecl>().requirements.at(0).test);
}

}  // namespace mm_test

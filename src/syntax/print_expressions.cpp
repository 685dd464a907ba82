// Expressions and values as text. Parentheses are put where they were written and where precedence asks for
// them.
#include <algorithm>

#include "syntax/print.hpp"
#include "syntax/print_nodes.hpp"

namespace mm {

namespace {

// How tightly a form binds; the names of the grammar's levels.
enum Level {
  any,
  disjunction,
  conjunction,
  negation,
  comparison,
  sum,
  term,
  product,
  sign,
  power,
  alone,
  reference
};

Level level_of(BinaryOp op) {
  switch (op) {
    case BinaryOp::logical_or:
      return disjunction;
    case BinaryOp::logical_and:
      return conjunction;
    case BinaryOp::eq:
    case BinaryOp::ne:
    case BinaryOp::lt:
    case BinaryOp::le:
    case BinaryOp::gt:
    case BinaryOp::ge:
      return comparison;
    case BinaryOp::add:
    case BinaryOp::sub:
      return sum;
    case BinaryOp::mul:
    case BinaryOp::div:
      return product;
    case BinaryOp::pow:
      return power;
  }
  return any;
}

std::string_view sign_of(BinaryOp op) {
  switch (op) {
    case BinaryOp::logical_or:
      return "or";
    case BinaryOp::logical_and:
      return "and";
    case BinaryOp::eq:
      return "=";
    case BinaryOp::ne:
      return "!=";
    case BinaryOp::lt:
      return "<";
    case BinaryOp::le:
      return "<=";
    case BinaryOp::gt:
      return ">";
    case BinaryOp::ge:
      return ">=";
    case BinaryOp::add:
      return "+";
    case BinaryOp::sub:
      return "-";
    case BinaryOp::mul:
      return "*";
    case BinaryOp::div:
      return "/";
    case BinaryOp::pow:
      return "^";
  }
  return "";
}

std::string_view word_of(AggregateKind kind) {
  switch (kind) {
    case AggregateKind::count:
      return "count";
    case AggregateKind::sum:
      return "sum";
    case AggregateKind::min:
      return "min";
    case AggregateKind::max:
      return "max";
  }
  return "";
}

struct LevelOf {
  Level operator()(const QuantityExpr&) const { return alone; }
  Level operator()(const TextExpr&) const { return alone; }
  Level operator()(const DateExpr&) const { return alone; }
  Level operator()(const BoolExpr&) const { return alone; }
  Level operator()(const NameExpr&) const { return reference; }
  Level operator()(const FieldExpr&) const { return reference; }
  Level operator()(const CallExpr&) const { return reference; }
  Level operator()(const UnaryExpr& e) const { return e.op == UnaryOp::negate ? sign : negation; }
  Level operator()(const BinaryExpr& e) const { return level_of(e.op); }
  Level operator()(const WithinExpr&) const { return comparison; }
  Level operator()(const InRangeExpr&) const { return comparison; }
  Level operator()(const InTableExpr& e) const { return e.values.size() == 1 ? comparison : alone; }
  Level operator()(const IfExpr&) const { return alone; }
  Level operator()(const LookupExpr&) const { return reference; }
  Level operator()(const QuantifierExpr&) const { return alone; }
  Level operator()(const AggregateExpr& e) const { return e.binder ? alone : term; }
  Level operator()(const MateExpr&) const { return alone; }
  Level operator()(const PartOfExpr&) const { return alone; }
};

/// Forms that take in all that follows them.
bool is_open(const Tree& tree, const Expr& expr) {
  if (const auto* aggregate = std::get_if<AggregateExpr>(&expr.form))
    return aggregate->where || (aggregate->binder && tree.binders[aggregate->binder].reach_from);
  return std::holds_alternative<IfExpr>(expr.form) || std::holds_alternative<QuantifierExpr>(expr.form);
}

/// Whether the text of a term would take a `for` behind it for its own.
bool ends_in_aggregate(const Tree& tree, ExprId id) {
  while (!tree.exprs[id].bracketed) {
    const auto& form = tree.exprs[id].form;
    if (const auto* binary = std::get_if<BinaryExpr>(&form)) {
      id = binary->right;
    } else if (const auto* unary = std::get_if<UnaryExpr>(&form)) {
      id = unary->operand;
    } else {
      return std::holds_alternative<AggregateExpr>(form);
    }
  }
  return false;
}

/// A bare number before `in` would be inches.
std::string before_in(std::string text) {
  std::size_t begin = text.size();
  const auto in_word = [](char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_'; };
  while (begin > 0 && in_word(text[begin - 1])) --begin;
  const bool number = begin < text.size() && text[begin] >= '0' && text[begin] <= '9';
  return number ? "(" + text + ")" : text;
}

std::string brackets(const std::string& text) { return std::string("(").append(text).append(")"); }

}  // namespace

std::string Wording::expression(ExprId id, int level, bool last) const {
  const Expr& expr = tree_.exprs[id];
  const bool closed =
      expr.bracketed || std::visit(LevelOf{}, expr.form) < level || (is_open(tree_, expr) && !last);
  std::string text = std::visit([&](const auto& form) { return form_of(form, closed || last); }, expr.form);
  return closed ? brackets(text) : text;
}

std::string Wording::form_of(const QuantityExpr& e, bool) const { return quantity(e.quantity); }
std::string Wording::form_of(const TextExpr& e, bool) const { return text(e.text); }
std::string Wording::form_of(const DateExpr& e, bool) const { return date(e.date); }
std::string Wording::form_of(const BoolExpr& e, bool) const { return e.value ? "yes" : "no"; }
std::string Wording::form_of(const NameExpr& e, bool) const { return name(e.name); }
std::string Wording::form_of(const FieldExpr& e, bool) const {
  return expression(e.object, reference, false) + "." + name(e.field);
}
std::string Wording::form_of(const CallExpr& e, bool) const {
  return name(e.function) + "(" + list(e.arguments) + ")";
}
std::string Wording::form_of(const UnaryExpr& e, bool last) const {
  if (e.op == UnaryOp::logical_not) return "not " + expression(e.operand, negation, last);
  return std::string("-").append(expression(e.operand, sign, last));
}
std::string Wording::form_of(const BinaryExpr& e, bool last) const {
  const Level own = level_of(e.op);
  const int left = e.op == BinaryOp::pow ? alone : own == comparison ? sum : own;
  const int right = e.op == BinaryOp::pow ? sign : own + 1;
  const char before = own <= conjunction ? soft_break : own <= sum ? weak_break : ' ';
  return expression(e.left, left, false) + before + std::string(sign_of(e.op)) + " " +
         expression(e.right, right, last);
}
std::string Wording::form_of(const WithinExpr& e, bool last) const {
  return expression(e.left, sum, false) + weak_break + "within " + expression(e.tolerance, sum, false) +
         " of " + expression(e.right, sum, last);
}
std::string Wording::form_of(const InRangeExpr& e, bool last) const {
  return before_in(expression(e.value, sum, false)) + " in " + expression(e.lo, sum, false) + ".." +
         expression(e.hi, sum, last);
}
std::string Wording::form_of(const InTableExpr& e, bool) const {
  if (e.values.size() == 1) return before_in(expression(e.values[0], sum, false)) + " in " + name(e.table);
  return brackets(list(e.values)) + " in " + name(e.table);
}
std::string Wording::form_of(const IfExpr& e, bool last) const {
  return "if " + expression(e.condition) + soft_break + "then " + expression(e.then_branch) + soft_break +
         "else " + expression(e.else_branch, any, last);
}
std::string Wording::form_of(const LookupExpr& e, bool) const {
  std::string conditions;
  for (const auto& c : e.conditions)
    conditions += (conditions.empty() ? "" : ", ") + name(c.column) + " " + std::string(sign_of(c.op)) + " " +
                  expression(c.value, sum, &c == &e.conditions.back());
  return name(e.table) + "[" + conditions + "]." + name(e.column);
}
std::string Wording::form_of(const QuantifierExpr& e, bool last) const {
  std::string result =
      (e.kind == QuantifierKind::some ? "some " : "every ") + binder(tree_.binders[e.binder]);
  result += where(e.where, last && e.body.is_none());
  if (e.body) result += std::string(1, soft_break) + "has " + expression(e.body, any, last);
  return result;
}
std::string Wording::form_of(const AggregateExpr& e, bool last) const {
  std::string result = std::string(word_of(e.kind)) + " of ";
  if (e.kind == AggregateKind::count) return result + binder(tree_.binders[e.binder]) + where(e.where, last);
  if (!e.binder) return result + expression(e.term, product, last);
  result += guarded(e.term, product);
  return result + soft_break + "for " + binder(tree_.binders[e.binder]) + where(e.where, last);
}
std::string Wording::form_of(const MateExpr& e, bool last) const { return "mate of " + face(e.face, last); }
std::string Wording::form_of(const PartOfExpr& e, bool last) const { return "part_of " + face(e.face, last); }

std::string Wording::face(ExprId id, bool last) const {
  const auto& form = tree_.exprs[id].form;
  const bool chain = std::holds_alternative<MateExpr>(form) || std::holds_alternative<PartOfExpr>(form);
  return expression(id, chain ? alone : reference, last);
}

std::string Wording::guarded(ExprId id, int level) const {
  const std::string text = expression(id, level, false);
  return ends_in_aggregate(tree_, id) ? brackets(text) : text;
}

std::string Wording::list(const std::vector<ExprId>& ids) const {
  std::string result;
  for (const ExprId& id : ids)
    result.append(result.empty() ? "" : ", ").append(expression(id, any, &id == &ids.back()));
  return result;
}

std::string Wording::where(ExprId id, bool last) const {
  return id ? std::string(1, soft_break) + "where " + expression(id, any, last) : std::string();
}

std::string Wording::binder(const Binder& b) const {
  std::string result;
  if (b.variable) result += name(*b.variable);
  if (b.variable && b.domain) result += ": ";
  if (b.domain) result += name(*b.domain);
  if (b.range_lo) result += " in " + expression(b.range_lo, sum, false) + ".." + guarded(b.range_hi, sum);
  if (b.reach_from)
    result += " reachable from " + face(b.reach_from, false) + " through " + list(b.reach_through);
  return result;
}

std::string print(ExprId expr, const Tree& tree, const Sources& sources, const Names& names) {
  std::string result = Wording(tree, sources, names).expression(expr);
  std::replace(result.begin(), result.end(), soft_break, ' ');
  std::replace(result.begin(), result.end(), weak_break, ' ');
  return result;
}

}  // namespace mm

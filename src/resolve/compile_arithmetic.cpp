// Numbers: literals, + - * / ^, comparisons, and the truth operators.
#include <fmt/format.h>

#include "resolve/compiler.hpp"
#include "resolve/quantities.hpp"

namespace mm {

namespace {

bool is_plain(const Type& type) {
  return type.kind == TypeKind::count || (type.kind == TypeKind::quantity && type.dimension.is_ratio());
}

const char* verb_of(BinaryOp op) {
  switch (op) {
    case BinaryOp::add:
      return "add";
    case BinaryOp::sub:
      return "subtract";
    default:
      return "compare";
  }
}

}  // namespace

Operand Compiler::visit(const QuantityExpr& e, ExprId id) {
  auto measured = read_quantity(context_, e.quantity);
  if (!measured) return error(id);
  const bool whole = measured->bare && measured->amount.get_den() == 1;
  Type type = whole ? simple_type(TypeKind::count, true) : quantity_type(measured->unit.dimension, true);
  return emit_number(measured->value, type);
}

Operand Compiler::visit(const TextExpr& e, ExprId) {
  return emit(OpCode::symbolic, simple_type(TypeKind::text, true), no_reg, no_reg, no_reg,
              context_.set_of(context_.names.intern(e.text.text)).index);
}

Operand Compiler::visit(const DateExpr& e, ExprId id) {
  auto days = day_number(e.date);
  if (!days) {
    context_.messages.add(Code::date_impossible, e.date.span,
                          {std::string(context_.sources.text(e.date.span))});
    return error(id);
  }
  return emit_number(ExactInterval::point(Rational(*days)), simple_type(TypeKind::date, true));
}

Operand Compiler::visit(const BoolExpr& e, ExprId) {
  return emit(OpCode::truth, simple_type(TypeKind::boolean, true), no_reg, no_reg, no_reg, e.value ? 1 : 0);
}

Operand Compiler::visit(const UnaryExpr& e, ExprId id) {
  if (e.op == UnaryOp::logical_not) {
    const Operand operand = want_truth(e.operand);
    return operand.is_error() ? error(id) : negate(operand);
  }
  const Operand operand = want_number(e.operand);
  if (operand.is_error()) return error(id);
  return emit(OpCode::neg, operand.type, operand.reg);
}

Operand Compiler::negate(Operand truth) {
  return emit(OpCode::logical_not, simple_type(TypeKind::boolean), truth.reg);
}

Operand Compiler::visit(const BinaryExpr& e, ExprId id) {
  switch (e.op) {
    case BinaryOp::add:
    case BinaryOp::sub:
    case BinaryOp::mul:
    case BinaryOp::div:
      return arithmetic(e.op, e.left, e.right, id);
    case BinaryOp::pow:
      return power_of(e.left, e.right, id);
    case BinaryOp::eq:
    case BinaryOp::ne:
    case BinaryOp::lt:
    case BinaryOp::le:
    case BinaryOp::gt:
    case BinaryOp::ge:
      return compare(e.op, e.left, e.right, id);
    case BinaryOp::logical_and:
    case BinaryOp::logical_or: {
      const Operand left = want_truth(e.left), right = want_truth(e.right);
      if (left.is_error() || right.is_error()) return error(id);
      return emit(e.op == BinaryOp::logical_and ? OpCode::logical_and : OpCode::logical_or,
                  simple_type(TypeKind::boolean), left.reg, right.reg);
    }
  }
  return error(id);
}

bool Compiler::same_dimension(const Operand& a, const Operand& b, const char* verb, ExprId id) {
  if (a.type.kind == TypeKind::date || b.type.kind == TypeKind::date) {
    if (a.type.kind == b.type.kind) return true;
  } else if (compatible(a.type.dimension, b.type.dimension)) {
    return true;
  }
  // A bare number beside a quantity is a forgotten unit.
  for (const auto* side : {&a, &b}) {
    const Operand& other = side == &a ? b : a;
    if (!side->expr || other.type.kind != TypeKind::quantity) continue;
    const auto* literal = std::get_if<QuantityExpr>(&context_.tree.exprs[side->expr].form);
    if (literal == nullptr || !literal->quantity.unit.empty()) continue;
    const std::string units = unit_example(context_, other.type.dimension);
    context_.messages.add(Code::unit_missing, span(side->expr),
                          {dimension_text(context_, other.type.dimension),
                           std::string(context_.sources.text(span(side->expr)))},
                          units.empty() ? std::string{} : fmt::format("write the unit with it, {}", units));
    return false;
  }
  context_.messages.add(Code::mixed_dimensions, span(id), {verb, what(a), what(b)});
  return false;
}

Operand Compiler::arithmetic(BinaryOp op, ExprId left_id, ExprId right_id, ExprId id) {
  const Operand left = want_number(left_id), right = want_number(right_id);
  if (left.is_error() || right.is_error()) return error(id);
  Type type = quantity_type({}, left.type.nominal && right.type.nominal);
  const bool counts = left.type.kind == TypeKind::count && right.type.kind == TypeKind::count;
  if (op == BinaryOp::add || op == BinaryOp::sub) {
    if (!same_dimension(left, right, verb_of(op), id)) return error(id);
    if (left.type.kind == TypeKind::date) {
      if (op == BinaryOp::add) {
        context_.messages.add(Code::mixed_dimensions, span(id), {"add", "a date", "a date"});
        return error(id);
      }
      const Operand days = emit(OpCode::sub, simple_type(TypeKind::count), left.reg, right.reg);
      const Operand day = emit_number(ExactInterval::point(86400), quantity_type({}));
      Dimension time;
      time.twelfths[static_cast<std::size_t>(BaseDimension::time)] = 12;
      return emit(OpCode::mul, quantity_type(time), days.reg, day.reg);
    }
    if (counts)
      type = simple_type(TypeKind::count, type.nominal);
    else
      type.dimension =
          left.type.dimension.tag != QuantityTag::none ? left.type.dimension : right.type.dimension;
    return emit(op == BinaryOp::add ? OpCode::add : OpCode::sub, type, left.reg, right.reg);
  }
  if (left.type.kind == TypeKind::date || right.type.kind == TypeKind::date) {
    context_.messages.add(Code::mixed_dimensions, span(id), {"multiply or divide", what(left), what(right)});
    return error(id);
  }
  const auto dimension = op == BinaryOp::mul ? product(left.type.dimension, right.type.dimension)
                                             : quotient(left.type.dimension, right.type.dimension);
  if (!dimension) {
    context_.messages.add(Code::dimension_overflow, span(id), {std::string(context_.sources.text(span(id)))},
                          "two currencies, or too high a power");
    return error(id);
  }
  if (counts && op == BinaryOp::mul)
    type = simple_type(TypeKind::count, type.nominal);
  else
    type.dimension = *dimension;
  // A plain factor changes no meaning: twice a torque is a torque.
  if (is_plain(right.type)) type.dimension.tag = left.type.dimension.tag;
  if (is_plain(left.type) && op == BinaryOp::mul) type.dimension.tag = right.type.dimension.tag;
  return emit(op == BinaryOp::mul ? OpCode::mul : OpCode::div, type, left.reg, right.reg);
}

std::optional<Rational> Compiler::constant(ExprId id) const {
  const auto& form = context_.tree.exprs[id].form;
  if (const auto* literal = std::get_if<QuantityExpr>(&form)) {
    if (!literal->quantity.unit.empty()) return std::nullopt;
    auto amount = read_number(context_.sources.text(literal->quantity.number.span));
    if (amount && literal->quantity.number.negative) *amount = -*amount;
    return amount;
  }
  if (const auto* unary = std::get_if<UnaryExpr>(&form); unary != nullptr && unary->op == UnaryOp::negate) {
    auto operand = constant(unary->operand);
    if (operand) *operand = -*operand;
    return operand;
  }
  if (const auto* binary = std::get_if<BinaryExpr>(&form); binary != nullptr && binary->op == BinaryOp::div) {
    auto left = constant(binary->left), right = constant(binary->right);
    if (left && right && *right != 0) return Rational(*left / *right);
  }
  return std::nullopt;
}

Operand Compiler::power_of(ExprId left_id, ExprId right_id, ExprId id) {
  const Operand base = want_number(left_id);
  const auto exponent = constant(right_id);
  const Operand power = exponent ? emit_number(ExactInterval::point(*exponent), quantity_type({}, true))
                                 : want_number(right_id);
  if (base.is_error() || power.is_error()) return error(id);
  if (!is_plain(power.type) || (!exponent && !is_plain(base.type))) {
    context_.messages.add(Code::exponent_unknown, span(right_id), {what(base)});
    return error(id);
  }
  Type type = quantity_type({}, base.type.nominal && power.type.nominal);
  if (!is_plain(base.type)) {
    auto dimension = mm::power(base.type.dimension, *exponent);
    if (!dimension) {
      context_.messages.add(Code::dimension_overflow, span(id),
                            {std::string(context_.sources.text(span(id)))});
      return error(id);
    }
    type.dimension = *dimension;
  }
  return emit(OpCode::pow, type, base.reg, power.reg);
}

Operand Compiler::order(BinaryOp op, const Operand& left, const Operand& right, ExprId id) {
  if (!same_dimension(left, right, "compare", id)) return error(id);
  const Type truth = simple_type(TypeKind::boolean);
  switch (op) {
    case BinaryOp::lt:
      return emit(OpCode::lt, truth, left.reg, right.reg);
    case BinaryOp::le:
      return emit(OpCode::le, truth, left.reg, right.reg);
    case BinaryOp::gt:
      return emit(OpCode::lt, truth, right.reg, left.reg);
    case BinaryOp::ge:
      return emit(OpCode::le, truth, right.reg, left.reg);
    default:
      return emit(OpCode::eq, truth, left.reg, right.reg);
  }
}

Operand Compiler::compare(BinaryOp op, ExprId left_id, ExprId right_id, ExprId id) {
  if (op == BinaryOp::eq || op == BinaryOp::ne) {
    Operand left = compile(left_id), right = compile(right_id);
    left.expr = left_id;
    right.expr = right_id;
    return equal(left, right, op, id, false);
  }
  Operand left = want_number(left_id), right = want_number(right_id);
  if (left.is_error() || right.is_error()) return error(id);
  return order(op, left, right, id);
}

Operand Compiler::equal(Operand left, Operand right, BinaryOp op, ExprId id, bool may_be_measured) {
  if (left.is_error() || right.is_error()) return error(id);
  Operand truth;
  if (left.form_of != no_reg || right.form_of != no_reg) {
    if (left.form_of == no_reg) std::swap(left, right);
    const DesignationDef& def = context_.model.designations[program_.types[left.form_of].designation];
    std::vector<std::string_view> known;
    for (std::uint32_t i = 0; i < def.forms.size(); ++i) {
      known.push_back(context_.names.text(def.forms[i].name));
      if (def.forms[i].name == right.bare_word && right.bare_word)
        truth = emit(OpCode::form_is, simple_type(TypeKind::boolean), left.form_of, no_reg, no_reg, i);
    }
    if (truth.reg == no_reg) {
      const std::string word = right.bare_word ? context_.text(right.bare_word) : what(right);
      context_.messages.add(Code::unknown_name, span(right.expr),
                            {"form of " + context_.text(def.name), word}, suggestion(word, known));
      return error(id);
    }
    return op == BinaryOp::ne ? negate(truth) : truth;
  }
  if (left.bare_word && right.bare_word) {
    context_.messages.add(Code::word_unknown, span(left.expr), {context_.text(left.bare_word)});
    return error(id);
  }
  // A word or a text takes the type of the other side.
  if (left.bare_word || (left.type.kind == TypeKind::text && right.type.kind == TypeKind::designation))
    left = fit_to(left, right.type, "=");
  if (right.bare_word || (right.type.kind == TypeKind::text && left.type.kind == TypeKind::designation))
    right = fit_to(right, left.type, "=");
  if (left.is_error() || right.is_error()) return error(id);
  const Type boolean = simple_type(TypeKind::boolean);
  if (left.type.is_symbolic() && right.type.is_symbolic() && left.type.kind == right.type.kind &&
      left.type.designation == right.type.designation) {
    truth = emit(OpCode::same, boolean, left.reg, right.reg);
  } else if (left.type.is_number() && right.type.is_number()) {
    const bool booleans = left.type.kind == TypeKind::boolean || right.type.kind == TypeKind::boolean;
    if (booleans && left.type.kind != right.type.kind) {
      context_.messages.add(Code::mixed_dimensions, span(id), {"compare", what(left), what(right)});
      return error(id);
    }
    if (!booleans && !same_dimension(left, right, "compare", id)) return error(id);
    if (!may_be_measured && !booleans &&
        (left.type.kind == TypeKind::quantity || right.type.kind == TypeKind::quantity) &&
        !(left.type.nominal && right.type.nominal)) {
      const std::string a(context_.sources.text(span(left.expr))), b(context_.sources.text(span(right.expr)));
      const std::string units = unit_example(context_, left.type.dimension);
      context_.messages.add(
          Code::equals_measured, span(id), {op == BinaryOp::eq ? "=" : "!="},
          fmt::format("write \"{}{} within 0.1 {} of {}\" with the tolerance that still works{}",
                      op == BinaryOp::eq ? "" : "not ", a, units.substr(0, units.find(' ')), b,
                      op == BinaryOp::eq ? "" : ""));
      return error(id);
    }
    truth = emit(OpCode::eq, boolean, left.reg, right.reg);
  } else {
    context_.messages.add(Code::mixed_dimensions, span(id), {"compare", what(left), what(right)});
    return error(id);
  }
  return op == BinaryOp::ne ? negate(truth) : truth;
}

Operand Compiler::visit(const WithinExpr& e, ExprId id) {
  const Operand left = want_number(e.left), tolerance = want_number(e.tolerance),
                right = want_number(e.right);
  if (left.is_error() || tolerance.is_error() || right.is_error()) return error(id);
  if (!same_dimension(left, right, "compare", id) || !same_dimension(tolerance, left, "compare", id))
    return error(id);
  const Operand difference = emit(OpCode::sub, quantity_type(left.type.dimension), left.reg, right.reg);
  const Operand distance = emit(OpCode::abs, difference.type, difference.reg);
  return emit(OpCode::le, simple_type(TypeKind::boolean), distance.reg, tolerance.reg);
}

std::pair<Operand, Operand> Compiler::range_ends(ExprId lo_id, ExprId hi_id) {
  // "0..15 MPa": the unit stands once and serves both ends.
  const auto literal = [&](ExprId end) { return std::get_if<QuantityExpr>(&context_.tree.exprs[end].form); };
  const auto* lo = literal(lo_id);
  const auto* hi = literal(hi_id);
  if (lo != nullptr && hi != nullptr && lo->quantity.unit.empty() != hi->quantity.unit.empty()) {
    const bool lo_bare = lo->quantity.unit.empty();
    auto unit = read_unit(context_, (lo_bare ? hi : lo)->quantity.unit);
    auto measured = unit ? read_quantity(context_, (lo_bare ? lo : hi)->quantity, &*unit) : std::nullopt;
    if (!measured) return {error(lo_id), error(hi_id)};
    Operand made = emit_number(measured->value, quantity_type(unit->dimension, true));
    made.expr = lo_bare ? lo_id : hi_id;
    return lo_bare ? std::pair{made, compile(hi_id)} : std::pair{compile(lo_id), made};
  }
  Operand low = want_number(lo_id);
  return {low, want_number(hi_id)};
}

Operand Compiler::visit(const InRangeExpr& e, ExprId id) {
  const Operand value = want_number(e.value);
  const auto [lo, hi] = range_ends(e.lo, e.hi);
  if (value.is_error() || lo.is_error() || hi.is_error()) return error(id);
  const Operand above = order(BinaryOp::le, lo, value, id), below = order(BinaryOp::le, value, hi, id);
  if (above.is_error() || below.is_error()) return error(id);
  return emit(OpCode::logical_and, simple_type(TypeKind::boolean), above.reg, below.reg);
}

Operand Compiler::visit(const IfExpr& e, ExprId id) {
  const Operand condition = want_truth(e.condition);
  Operand yes = compile(e.then_branch), no = compile(e.else_branch);
  if (condition.is_error() || yes.is_error() || no.is_error()) return error(id);
  if (yes.bare_word) yes = fit_to(yes, no.bare_word ? simple_type(TypeKind::choice, true) : no.type, "else");
  if (no.bare_word) no = fit_to(no, yes.type, "then");
  if (yes.is_error() || no.is_error()) return error(id);
  const bool numbers = yes.type.is_number() && no.type.is_number() && yes.type.kind != TypeKind::boolean;
  Type type = yes.type;
  if (numbers) {
    if (!same_dimension(yes, no, "choose between", id)) return error(id);
    if (no.type.kind == TypeKind::quantity) type = no.type;
  } else if (yes.type.kind != no.type.kind || yes.type.designation != no.type.designation) {
    context_.messages.add(Code::mixed_dimensions, span(id), {"choose between", what(yes), what(no)});
    return error(id);
  }
  type.nominal = yes.type.nominal && no.type.nominal;
  return emit(OpCode::choose, type, condition.reg, yes.reg, no.reg);
}

}  // namespace mm

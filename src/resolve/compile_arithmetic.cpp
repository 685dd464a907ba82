// Literals, + - * / ^, and the truth operators.
#include <fmt/format.h>

#include "resolve/compiler.hpp"
#include "resolve/quantities.hpp"

namespace mm {

namespace {

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
  const auto known = context_.written.find(id.index);
  if (known != context_.written.end())
    return emit(OpCode::number, known->second.type, no_reg, no_reg, no_reg, known->second.number.index);
  const Operand operand = literal(e.quantity, id);
  if (!operand.is_error())
    context_.written.emplace(id.index,
                             Context::Written{NumberId{step_of(operand.reg)->payload}, operand.type});
  return operand;
}

Operand Compiler::literal(const QuantitySyntax& quantity, ExprId id) {
  auto measured = read_quantity(context_, quantity);
  if (!measured) return error(id);
  const bool whole = measured->bare && measured->amount.is_whole();
  Type type = whole ? simple_type(TypeKind::count, true) : quantity_type(measured->unit->dimension, true);
  type.readings = measured->unit->offset != 0 ? 1 : 0;
  return emit_number(*measured, type);
}

Operand Compiler::visit(const TextExpr& e, ExprId) {
  return emit(OpCode::symbolic, simple_type(TypeKind::text, true), no_reg, no_reg, no_reg,
              context_.set_of(context_.names.intern(e.text.text)).index);
}

Operand Compiler::visit(const DateExpr& e, ExprId id) {
  auto days = day_number(e.date.date);
  if (!days) return error(id);  // said by the parser
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
  if (is_reading(id)) {  // the minus belongs to the reading: 20 degrees of frost, not less than no heat
    auto quantity = std::get<QuantityExpr>(context_.tree.exprs[e.operand].form).quantity;
    quantity.begin = quantity.negative() ? quantity.number_begin : span(id).begin;
    return literal(quantity, id);
  }
  const Operand operand = want_number(e.operand);
  if (operand.is_error()) return error(id);
  Type type = operand.type;
  type.readings = -type.readings;
  return emit(OpCode::neg, type, operand.reg);
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
    case BinaryOp::logical_or:
      return logical(e, id);
  }
  return error(id);
}

/// Where one side is settled the other is not asked for, whichever stands first; both cannot be the guard.
Operand Compiler::logical(const BinaryExpr& e, ExprId id) {
  const bool both = e.op == BinaryOp::logical_and;
  const bool right_first = may_compare_numbers(e.right) && !may_lack_value(e.right) && may_lack_value(e.left);
  Operand left, right;
  Operand& guard = right_first ? right : left;
  guard = want_truth(right_first ? e.right : e.left);
  {
    const Assuming open(*this, guard, both);
    (right_first ? left : right) = right_first ? want_truth(e.left) : want_truth(e.right, e.left);
  }
  if (left.is_error() || right.is_error()) return error(id);
  return emit(both ? OpCode::logical_and : OpCode::logical_or, simple_type(TypeKind::boolean), left.reg,
              right.reg);
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
    if (literal == nullptr || literal->quantity.has_unit()) continue;
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

bool Compiler::is_reading(ExprId id) {
  const auto* expr = &context_.tree.exprs[id].form;
  if (const auto* unary = std::get_if<UnaryExpr>(expr); unary != nullptr && unary->op == UnaryOp::negate)
    expr = &context_.tree.exprs[unary->operand].form;
  const auto* quantity = std::get_if<QuantityExpr>(expr);
  if (quantity == nullptr || !quantity->quantity.has_unit()) return false;
  const Unit* unit = read_unit(context_, context_.tree.unit_of(quantity->quantity));
  return unit != nullptr && unit->offset != 0;
}

Operand Compiler::arithmetic(BinaryOp op, ExprId left_id, ExprId right_id, ExprId id) {
  for (const ExprId side : {left_id, right_id}) {
    if (op == BinaryOp::sub || !is_reading(side)) continue;
    context_.messages.add(
        Code::reading_in_sum, span(side),
        {std::string(context_.sources.text(span(side))), op == BinaryOp::add   ? "added"
                                                         : op == BinaryOp::mul ? "multiplied"
                                                                               : "divided"},
        "a difference of temperature is written in K, delta_degC or delta_degF");
    return error(id);
  }
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
    type.readings = left.type.readings + (op == BinaryOp::add ? right.type.readings : -right.type.readings);
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
  if (right.type.is_plain()) type.dimension.tag = left.type.dimension.tag;
  if (left.type.is_plain() && op == BinaryOp::mul) type.dimension.tag = right.type.dimension.tag;
  if (type.dimension.twelfths[static_cast<std::size_t>(BaseDimension::temperature)] != 0)
    type.readings = readings_in_product(op, left, right);
  if (op == BinaryOp::mul) return emit(OpCode::mul, type, left.reg, right.reg);
  return emit(OpCode::div, type, left.reg, right.reg, no_reg, guarded(right.reg));
}

float Compiler::readings_in_product(BinaryOp op, const Operand& left, const Operand& right) const {
  if (!left.type.is_plain() && !right.type.is_plain()) return 0;
  const bool by_right = right.type.is_plain();
  const float readings = by_right ? left.type.readings : right.type.readings;
  if (readings == 0) return 0;
  const auto factor = constant(by_right ? right.expr : left.expr);
  if (!factor || *factor == 0) return unknown_readings;
  const Rational in_all = op == BinaryOp::div ? exact(readings) / *factor : exact(readings) * *factor;
  return static_cast<float>(round_nearest(in_all));
}

std::optional<Rational> Compiler::constant(ExprId id) const {
  const auto& form = context_.tree.exprs[id].form;
  if (const auto* literal = std::get_if<QuantityExpr>(&form)) {
    if (literal->quantity.has_unit()) return std::nullopt;
    auto amount = read_number(context_.sources.text(literal->quantity.number().span));
    if (amount && literal->quantity.negative()) *amount = -*amount;
    return amount;
  }
  if (const auto* unary = std::get_if<UnaryExpr>(&form); unary != nullptr && unary->op == UnaryOp::negate) {
    auto operand = constant(unary->operand);
    if (operand) *operand = -*operand;
    return operand;
  }
  if (const auto* binary = std::get_if<BinaryExpr>(&form); binary != nullptr && binary->op == BinaryOp::div) {
    auto left = constant(binary->left), right = constant(binary->right);
    if (left && right && *right != 0) return *left / *right;
  }
  return std::nullopt;
}

Operand Compiler::power_of(ExprId left_id, ExprId right_id, ExprId id) {
  const Operand base = want_number(left_id);
  const auto exponent = constant(right_id);
  const Operand power = exponent ? emit_number(ExactInterval::point(*exponent), quantity_type({}, true))
                                 : want_number(right_id);
  if (base.is_error() || power.is_error()) return error(id);
  if (!power.type.is_plain() || (!exponent && !base.type.is_plain())) {
    const std::string written(context_.sources.text(span(right_id)));
    const auto* quantity = std::get_if<QuantityExpr>(&context_.tree.exprs[right_id].form);
    const std::size_t over = quantity != nullptr ? written.find('/') : std::string::npos;
    context_.messages.add(Code::exponent_unknown, span(right_id), {what(base)},
                          over == std::string::npos
                              ? std::string()
                              : fmt::format("{} was read as one quantity; write ^{} / ({})", written,
                                            written.substr(0, over), written.substr(over + 1)));
    return error(id);
  }
  Type type = quantity_type({}, base.type.nominal && power.type.nominal);
  if (!base.type.is_plain()) {
    auto dimension = mm::power(base.type.dimension, *exponent);
    if (!dimension) {
      context_.messages.add(Code::dimension_overflow, span(id),
                            {std::string(context_.sources.text(span(id)))});
      return error(id);
    }
    type.dimension = *dimension;
  }
  return emit(OpCode::pow, type, base.reg, power.reg, no_reg, guarded(base.reg));
}

}  // namespace mm

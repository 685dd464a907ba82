// Truth from values: order, equality, tolerance, ranges, and the choice between two values.
#include <fmt/format.h>

#include <cmath>

#include "resolve/compiler.hpp"
#include "resolve/quantities.hpp"

namespace mm {

/// As many readings of a thermometer on both sides; a number in K may stand for either sort.
bool Compiler::same_readings(const Operand& a, const Operand& b, ExprId id) {
  Dimension temperature;
  temperature.twelfths[static_cast<std::size_t>(BaseDimension::temperature)] = 12;
  const float left = a.type.readings, right = b.type.readings;
  if (a.type.dimension != temperature || left == right || std::isnan(left) || std::isnan(right)) return true;
  const auto in_kelvin = [&](const Operand& side) {
    return side.type.readings == 0 && constant_of(side.reg) != nullptr;
  };
  const auto is_plain_sort = [](float readings) { return readings == 0 || readings == 1; };
  const bool plain = is_plain_sort(left) && is_plain_sort(right);
  const bool told_apart = constant_of(a.reg) != nullptr || constant_of(b.reg) != nullptr;
  if (plain && (in_kelvin(a) || in_kelvin(b) || !told_apart)) return true;
  const auto said = [](float readings) {
    return std::string(readings == 0   ? "a difference of temperature"
                       : readings == 1 ? "a thermometer reading"
                                       : "readings added, negated or multiplied");
  };
  context_.messages.add(Code::readings_differ, span(id), {said(left), said(right)},
                        "a difference of temperature is written in K, delta_degC or delta_degF");
  return false;
}

Operand Compiler::order(BinaryOp op, const Operand& left, const Operand& right, ExprId id) {
  if (!same_dimension(left, right, "compare", id) || !same_readings(left, right, id)) return error(id);
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
    return equal(left, right, op, id);
  }
  Operand left = want_number(left_id), right = want_number(right_id);
  if (left.is_error() || right.is_error()) return error(id);
  return order(op, left, right, id);
}

Operand Compiler::equal(Operand left, Operand right, BinaryOp op, ExprId id) {
  if (left.is_error() || right.is_error()) return error(id);
  Operand truth;
  if (left.form_of != no_reg || right.form_of != no_reg) {
    if (left.form_of != no_reg && right.form_of != no_reg) {
      context_.messages.add(Code::mixed_dimensions, span(id), {"compare", what(left), what(right)},
                            "a form is compared with its name, as x.size.form = metric");
      return error(id);
    }
    if (left.form_of == no_reg) std::swap(left, right);
    const DesignationDef& def = context_.model.designations[types_[left.form_of].designation];
    std::vector<std::string_view> known;
    for (std::uint32_t i = 0; i < def.forms.size(); ++i) {
      known.push_back(context_.names.text(def.forms[i].name));
      if (def.forms[i].name == right.bare_word && right.bare_word)
        truth = emit(OpCode::form_is, simple_type(TypeKind::boolean), left.form_of, no_reg, no_reg, i);
    }
    if (truth.reg == no_reg) {
      const std::string word = right.bare_word ? context_.text(right.bare_word) : what(right);
      context_.messages.add(Code::unknown_name, span(right.expr),
                            {"form of " + context_.text(def.name), word}, context_.suggest(word, known));
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
    note_compared(left.type);
    truth = emit(OpCode::same, boolean, left.reg, right.reg);
  } else if (left.type.is_number() && right.type.is_number()) {
    const bool booleans = left.type.kind == TypeKind::boolean || right.type.kind == TypeKind::boolean;
    if (booleans && left.type.kind != right.type.kind) {
      context_.messages.add(Code::mixed_dimensions, span(id), {"compare", what(left), what(right)});
      return error(id);
    }
    if (!booleans && (!same_dimension(left, right, "compare", id) || !same_readings(left, right, id)))
      return error(id);
    if (!booleans && (left.type.kind == TypeKind::quantity || right.type.kind == TypeKind::quantity) &&
        !(left.type.nominal && right.type.nominal)) {
      const std::string a(context_.sources.text(span(left.expr))), b(context_.sources.text(span(right.expr)));
      const std::string units = unit_example(context_, left.type.dimension);
      const std::string unit = units.substr(0, units.find(' '));
      context_.messages.add(
          Code::equals_measured, span(id), {op == BinaryOp::eq ? "=" : "!="},
          fmt::format("write \"{}{} within 0.1{} of {}\" with the tolerance that still works",
                      op == BinaryOp::eq ? "" : "not ", a, unit.empty() ? "" : " " + unit, b));
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
  if (!same_dimension(left, right, "compare", id) || !same_dimension(tolerance, left, "compare", id) ||
      !same_readings(left, right, id))
    return error(id);
  const auto written = written_out(tolerance, e.tolerance);
  if (written && written->hi_value < 0) {
    context_.messages.add(Code::spread_negative, span(e.tolerance),
                          {std::string(context_.sources.text(span(e.tolerance)))},
                          "write it without the sign");
    return error(id);
  }
  Type apart = quantity_type(left.type.dimension);
  apart.readings = left.type.readings - right.type.readings;
  const Operand difference = emit(OpCode::sub, apart, left.reg, right.reg);
  const Operand distance = emit(OpCode::abs, difference.type, difference.reg);
  return emit(OpCode::le, simple_type(TypeKind::boolean), distance.reg, tolerance.reg);
}

/// Of a number with its unit and sign; none for what a formula was called with.
std::optional<ExactInterval> Compiler::written_out(const Operand& operand, ExprId id) const {
  const auto* unary = std::get_if<UnaryExpr>(&context_.tree.exprs[id].form);
  const ExprId number = unary != nullptr ? unary->operand : id;
  if (operand.is_error() || !std::holds_alternative<QuantityExpr>(context_.tree.exprs[number].form))
    return std::nullopt;
  const Op* step = step_of(operand.reg);
  const bool minus = step != nullptr && step->code == OpCode::neg;
  const ExactInterval* value = constant_of(minus ? step->a : operand.reg);
  if (value == nullptr) return std::nullopt;
  return minus ? ExactInterval::of(-value->hi_value, -value->lo_value) : *value;
}

std::pair<Operand, Operand> Compiler::range_ends(ExprId lo_id, ExprId hi_id) {
  // "0..15 MPa": the unit stands once and serves both ends.
  const auto literal = [&](ExprId end) { return std::get_if<QuantityExpr>(&context_.tree.exprs[end].form); };
  const auto* lo = literal(lo_id);
  const auto* hi = literal(hi_id);
  if (lo != nullptr && hi != nullptr && lo->quantity.has_unit() != hi->quantity.has_unit()) {
    const bool lo_bare = !lo->quantity.has_unit();
    const Unit* unit = read_unit(context_, context_.tree.unit_of((lo_bare ? hi : lo)->quantity));
    auto measured = unit != nullptr && clear_ends(context_, lo->quantity, hi->quantity, *unit)
                        ? read_quantity(context_, (lo_bare ? lo : hi)->quantity, unit)
                        : std::nullopt;
    if (!measured) return {error(lo_id), error(hi_id)};
    Operand made = emit_number(*measured, quantity_type(unit->dimension, true));
    made.expr = lo_bare ? lo_id : hi_id;
    return lo_bare ? std::pair{made, compile(hi_id)} : std::pair{compile(lo_id), made};
  }
  Operand low = want_number(lo_id), high = want_number(hi_id);
  const auto from = written_out(low, lo_id), to = written_out(high, hi_id);
  if (from && to && low.type.dimension == high.type.dimension && from->lo_value > to->hi_value) {
    const auto text = [&](ExprId end) { return std::string(context_.sources.text(span(end))); };
    context_.messages.add(Code::range_backwards, span(lo_id), {text(lo_id), text(hi_id)},
                          "write the smaller end first");
    return {error(lo_id), error(hi_id)};
  }
  return {low, high};
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
  const auto branch = [&](ExprId expr, bool holds) {
    const Assuming taken(*this, condition, holds);
    return compile(expr);
  };
  Operand yes = branch(e.then_branch, true), no = branch(e.else_branch, false);
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
  type.readings = std::max(yes.type.readings, no.type.readings);
  return emit(OpCode::choose, type, condition.reg, yes.reg, no.reg);
}

}  // namespace mm

// Functions and formulas. A formula's body is put in where it is called, its arguments computed once; the
// equal steps of two calls are one step, so formulas built on formulas stay short.
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "resolve/compiler.hpp"
#include "resolve/types.hpp"

namespace mm {

namespace {

enum class Wants : std::uint8_t { any, angle, plain };
enum class Gives : std::uint8_t { same, angle, plain, root };

struct BuiltIn {
  std::string_view name;
  OpCode code;
  Wants wants;
  Gives gives;
};

constexpr std::array built_ins{BuiltIn{"abs", OpCode::abs, Wants::any, Gives::same},
                               BuiltIn{"sqrt", OpCode::sqrt, Wants::any, Gives::root},
                               BuiltIn{"sin", OpCode::sin, Wants::angle, Gives::plain},
                               BuiltIn{"cos", OpCode::cos, Wants::angle, Gives::plain},
                               BuiltIn{"tan", OpCode::tan, Wants::angle, Gives::plain},
                               BuiltIn{"asin", OpCode::asin, Wants::plain, Gives::angle},
                               BuiltIn{"acos", OpCode::acos, Wants::plain, Gives::angle},
                               BuiltIn{"atan", OpCode::atan, Wants::plain, Gives::angle},
                               BuiltIn{"exp", OpCode::exp, Wants::plain, Gives::plain},
                               BuiltIn{"ln", OpCode::ln, Wants::plain, Gives::plain},
                               BuiltIn{"floor", OpCode::floor, Wants::plain, Gives::same},
                               BuiltIn{"ceil", OpCode::ceil, Wants::plain, Gives::same},
                               BuiltIn{"round", OpCode::round, Wants::plain, Gives::same}};

Dimension angle_dimension() {
  Dimension angle;
  angle.twelfths[static_cast<std::size_t>(BaseDimension::angle)] = 12;
  return angle;
}

}  // namespace

bool is_built_in(std::string_view function) {
  return function == "min" || function == "max" ||
         std::any_of(built_ins.begin(), built_ins.end(),
                     [&](const BuiltIn& b) { return b.name == function; });
}

std::string Compiler::hint_for_function(const CallExpr& e) const {
  constexpr std::pair<std::string_view, std::string_view> others[] = {
      {"if", "as if CONDITION then A else B"},
      {"sum", "two values are added with +; of several parts it is sum of x.length for x: KIND"},
      {"average", "the middle of two is (a + b) / 2"},
      {"count", "as count of x: KIND where CONDITION"},
      {"countif", "as count of x: KIND where CONDITION"},
      {"pow", "a power is written a ^ 2"},
      {"power", "a power is written a ^ 2"},
      {"log", "the natural logarithm is ln"},
      {"and", "as CONDITION and CONDITION"},
      {"or", "as CONDITION or CONDITION"},
      {"not", "as not CONDITION"},
      {"vlookup", "a look-up is written TABLE[column = value].column"}};
  if (const auto found = context_.tables.find(e.function.symbol); found != context_.tables.end()) {
    const auto& columns = context_.model.tables[found->second].columns;
    if (columns.size() < 2 || e.arguments.size() != 1)
      return "a table is asked by TABLE[column = value].column";
    constexpr std::size_t longest = 60;
    const std::string_view asked = context_.sources.text(span(e.arguments[0]));
    return fmt::format("a table is asked by {}[{} = {}].{}", context_.text(e.function),
                       context_.text(columns.front().name), asked.size() > longest ? "..." : asked,
                       context_.text(columns.back().name));
  }
  std::string small(context_.names.text(e.function.symbol));
  for (char& letter : small)
    if (letter >= 'A' && letter <= 'Z') letter = static_cast<char>(letter - 'A' + 'a');
  for (const auto& [seen, hint] : others)
    if (seen == small) return std::string(hint);
  return {};
}

Operand Compiler::visit(const CallExpr& e, ExprId id) {
  const std::string_view name = context_.names.text(e.function.symbol);
  if (is_built_in(name)) return built_in(name, e, id);
  auto found = context_.formulas.find(e.function.symbol);
  if (found != context_.formulas.end()) return call_formula(found->second, e, id);
  const std::string hint = hint_for_function(e);
  std::vector<std::string_view> known{"min", "max"};
  for (const auto& b : built_ins) known.push_back(b.name);
  for (const auto& [symbol, index] : context_.formulas) known.push_back(context_.names.text(symbol));
  context_.messages.add(Code::unknown_name, e.function.span, {"function or formula", std::string(name)},
                        hint.empty() ? context_.suggest(name, known) : hint);
  return error(id);
}

Operand Compiler::built_in(std::string_view name, const CallExpr& e, ExprId id) {
  std::vector<Operand> arguments;
  for (const auto argument : e.arguments) {
    arguments.push_back(want_number(argument));
    if (arguments.back().is_error()) return error(id);
  }
  if (name == "min" || name == "max") {
    if (arguments.empty()) {
      context_.messages.add(Code::argument_count, span(id), {std::string(name), "one or more", "0"});
      return error(id);
    }
    Operand result = arguments[0];
    for (std::size_t i = 1; i < arguments.size(); ++i) {
      if (!same_dimension(result, arguments[i], "compare", id)) return error(id);
      Type type = arguments[i].type.kind == TypeKind::quantity ? arguments[i].type : result.type;
      type.nominal = result.type.nominal && arguments[i].type.nominal;
      type.readings = std::max(result.type.readings, arguments[i].type.readings);
      result = emit(name == "min" ? OpCode::min : OpCode::max, type, result.reg, arguments[i].reg);
    }
    return result;
  }
  const auto& function =
      *std::find_if(built_ins.begin(), built_ins.end(), [&](const BuiltIn& b) { return b.name == name; });
  if (arguments.size() != 1) {
    context_.messages.add(Code::argument_count, span(id),
                          {std::string(name), "1", std::to_string(arguments.size())});
    return error(id);
  }
  const Operand& x = arguments[0];
  const bool plain = x.type.is_plain();
  if (function.wants == Wants::angle && x.type.dimension != angle_dimension()) {
    context_.messages.add(Code::argument_type, span(x.expr), {std::string(name), "an angle", what(x)},
                          plain ? "write the unit with it, deg or rad" : "");
    return error(id);
  }
  if (function.wants == Wants::plain && !plain) {
    context_.messages.add(Code::argument_type, span(x.expr), {std::string(name), "a plain number", what(x)},
                          "divide by a quantity of the same dimension first");
    return error(id);
  }
  Type type = x.type;
  if (function.gives == Gives::plain) type = quantity_type({}, x.type.nominal);
  if (function.gives == Gives::angle) type = quantity_type(angle_dimension(), x.type.nominal);
  if (function.gives == Gives::root) {
    auto dimension = mm::power(x.type.dimension, Rational(1, 2));
    if (!dimension) {
      context_.messages.add(Code::dimension_overflow, span(id),
                            {std::string(context_.sources.text(span(id)))});
      return error(id);
    }
    type = quantity_type(*dimension, x.type.nominal);
  }
  if (is_rounding(function.code)) type = simple_type(TypeKind::count, x.type.nominal);
  const bool partly = function.code == OpCode::sqrt || function.code == OpCode::ln;
  return emit(function.code, type, x.reg, no_reg, no_reg, partly ? guarded(x.reg) : 0);
}

Operand Compiler::call_formula(std::uint32_t index, const CallExpr& e, ExprId id) {
  const FormulaEntry& formula = context_.formula_list[index];
  if (std::find(active_formulas_.begin(), active_formulas_.end(), index) != active_formulas_.end()) {
    // However it is entered, a circle is reported once: where its first formula by declaration closes it.
    std::vector<std::uint32_t> circle(std::find(active_formulas_.begin(), active_formulas_.end(), index),
                                      active_formulas_.end());
    if (index != *std::min_element(circle.begin(), circle.end())) return error(id);
    std::string shown;
    for (const auto member : circle)
      shown += context_.text(context_.formula_list[member].decl->name) + " -> ";
    context_.messages.add(Code::formula_circle, e.function.span, {shown + context_.text(e.function)});
    return error(id);
  }
  std::vector<Operand> arguments;
  bool good = true;
  for (std::size_t i = 0; i < e.arguments.size(); ++i) {
    Operand argument = compile(e.arguments[i]);
    argument.expr = e.arguments[i];
    if (i < formula.parameters.size() && !argument.is_error() && !is_of(argument, formula.parameters[i]))
      argument = fit_to(argument, formula.parameters[i],
                        fmt::format("{} of {}", context_.text(formula.decl->parameters[i].name),
                                    context_.text(e.function)));
    good = good && !argument.is_error();
    arguments.push_back(argument);
  }
  if (arguments.size() != formula.parameters.size()) {
    Message& message =
        context_.messages.add(Code::argument_count, span(id),
                              {context_.text(e.function), std::to_string(formula.parameters.size()),
                               std::to_string(arguments.size())});
    message.labels.push_back({formula.decl->name.span, "declared here"});
    return error(id);
  }
  formulas_put_in_ = true;
  if (context_.formulas_too_long.contains(index)) return error(id);
  if (!good || formula.result.kind == TypeKind::error) return error(id);
  Frame inner;
  for (std::size_t i = 0; i < arguments.size(); ++i) {
    ScopeEntry entry{formula.decl->parameters[i].name.symbol,
                     ScopeEntry::Sort::reg,
                     arguments[i].type,
                     0,
                     false,
                     arguments[i],
                     {},
                     0};
    inner.bindings.push_back(std::move(entry));
  }
  frames_.push_back(std::move(inner));
  active_formulas_.push_back(index);
  Operand result = compile(formula.decl->body);
  result.expr = formula.decl->body;
  if (!result.is_error()) result = fit_to(result, formula.result, {});
  active_formulas_.pop_back();
  frames_.pop_back();
  if (result.is_error()) return error(id);
  if (result.type.kind == TypeKind::quantity && formula.result.kind == TypeKind::quantity)
    result.type.dimension = formula.result.dimension;
  return result;
}

Operand Compiler::compile_formula_alone(std::uint32_t index) {
  const FormulaEntry& formula = context_.formula_list[index];
  open_block();
  Frame inner;
  for (std::size_t i = 0; i < formula.parameters.size(); ++i) {
    const Type& type = formula.parameters[i];
    Operand operand;
    if (type.is_entity())
      operand = emit(OpCode::local, type, no_reg, no_reg, no_reg, static_cast<std::uint32_t>(i));
    else if (type.is_symbolic())
      operand =
          emit(OpCode::symbolic, type, no_reg, no_reg, static_cast<Reg>(i), context_.any_member().index);
    else
      operand = emit(OpCode::local_number, type, no_reg, no_reg, no_reg, static_cast<std::uint32_t>(i));
    if (type.kind == TypeKind::error) operand = Operand{};
    inner.bindings.push_back(
        {formula.decl->parameters[i].name.symbol, ScopeEntry::Sort::reg, type, 0, false, operand, {}, 0});
  }
  set_slots(static_cast<std::uint32_t>(formula.parameters.size()));
  frames_.push_back(std::move(inner));
  active_formulas_.push_back(index);
  Operand result = compile(formula.decl->body);
  result.expr = formula.decl->body;
  if (!result.is_error() && formula.result.kind != TypeKind::error)
    result = fit_to(result, formula.result, {});
  if (said_too_long_) context_.formulas_too_long.insert(index);
  active_formulas_.pop_back();
  frames_.pop_back();
  close_block(result.reg);
  return result;
}

}  // namespace mm

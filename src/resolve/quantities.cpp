#include "resolve/quantities.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>

namespace mm {

const Unit& no_unit() {
  static const Unit none;
  return none;
}

const Unit* read_unit(Context& context, const UnitSyntax& unit, const Type* wanted) {
  if (unit.empty()) return &no_unit();
  auto& known = context.units_read;
  if (known.size() <= unit.id.index) known.resize(context.tree.units.size());
  if (known[unit.id.index] != nullptr) return known[unit.id.index];
  const std::string_view written = context.tree.text(unit.id);
  std::vector<UnitFactor> factors;
  for (const auto& factor : context.tree.units[unit.id])
    factors.push_back({context.names.text(factor.name), factor.power});
  if (factors.size() == 1 && factors[0].power == 1) {
    if (const Unit* found = context.model.units.find(factors[0].name)) return known[unit.id.index] = found;
  }
  std::string bad;
  auto product = context.model.units.product(factors, &bad);
  if (product) {
    product->text = std::string(written);
    return known[unit.id.index] = &context.model.unit_products.emplace_back(std::move(*product));
  }
  if (bad.empty()) {
    const bool thermometer = std::any_of(factors.begin(), factors.end(), [&](const UnitFactor& factor) {
      const Unit* known_unit = context.model.units.find(factor.name);
      return known_unit != nullptr && known_unit->offset != 0;
    });
    context.messages.add(Code::unit_not_in_product, unit.span,
                         {std::string(written), thermometer ? "a thermometer reading is no factor of a unit"
                                                            : "a unit has powers up to 24, numbers of some "
                                                              "hundred digits, and one currency at most"},
                         thermometer ? "use K, delta_degC or delta_degF for a difference" : "");
  } else {
    Message& message = context.messages.add(Code::unknown_unit, unit.span, {bad},
                                            hint_for_unknown_unit(context, unit, bad, wanted));
    if (wanted != nullptr) message.wanted = wanted_dimension(context, *wanted);
  }
  return nullptr;
}

std::optional<Rational> read_amount(Context& context, const NumberSyntax& number) {
  auto amount = read_number(context.sources.text(number.span));
  if (!amount) {
    std::string shown(context.sources.text(number.span).substr(0, 40));
    const std::string_view written = context.sources.text(number.span);
    const std::size_t slash = written.find('/');
    std::string why = "it is too long";
    if (slash != std::string_view::npos &&
        written.find_first_not_of('0', slash + 1) == std::string_view::npos)
      why = "it divides by zero";
    else if (written.find_first_of("eE") != std::string_view::npos)
      why = fmt::format("its power of ten is too {}",
                        written.find('-') == std::string_view::npos ? "large" : "small");
    context.messages.add(Code::number_unreadable, number.span, {std::move(shown), std::move(why)});
    return std::nullopt;
  }
  if (number.negative) *amount = -*amount;
  return amount;
}

ExactInterval scale_difference(Context& context, const Rational& amount, const Unit& unit) {
  if (unit.pi_power == 0) return ExactInterval::point(amount * unit.factor);
  const auto [scale, fresh] = context.pi_scales.try_emplace(&unit);
  if (fresh) scale->second = mul(ExactInterval::point(unit.factor), pi_exact(unit.pi_power));
  return mul(ExactInterval::point(amount), scale->second);
}

std::optional<Measured> read_quantity(Context& context, const QuantitySyntax& quantity, const Unit* fallback,
                                      const Type* wanted) {
  Measured measured;
  measured.bare = !quantity.has_unit();
  measured.unit = &no_unit();
  if (measured.bare && fallback != nullptr) {
    measured.unit = fallback;
    measured.bare = fallback->text.empty();
  } else if (!measured.bare) {
    measured.unit = read_unit(context, context.tree.unit_of(quantity), wanted);
  }
  auto amount =
      read_amount(context, quantity.number());  // says what is wrong with it even where the unit is, too
  if (!amount || measured.unit == nullptr) return std::nullopt;
  measured.value = scale_difference(context, *amount, *measured.unit);
  if (measured.unit->offset != 0)
    measured.value = add(measured.value, ExactInterval::point(measured.unit->offset));
  measured.amount = *std::move(amount);
  return measured;
}

bool expect_unsigned(Context& context, const QuantitySyntax& spread) {
  if (!spread.number().negative) return true;
  const std::string_view written = context.sources.text(spread.span());
  context.messages.add(Code::spread_negative, spread.span(), {std::string(written)},
                       "write it without the sign, as 25 mm +- 0.1 mm or 25 mm +0.1 -0.2; two limits on one "
                       "side are a range, as 25.1..25.3 mm");
  return false;
}

std::optional<ExactInterval> read_width(Context& context, const QuantitySyntax& spread, const Measured& base,
                                        const Type& type) {
  auto amount = read_amount(context, spread.number());
  if (!amount || !expect_unsigned(context, spread)) return std::nullopt;
  if (!spread.has_unit()) return scale_difference(context, *amount, *base.unit);
  const Unit* unit = read_unit(context, context.tree.unit_of(spread), &type);
  if (unit == nullptr) return std::nullopt;
  if (unit->text == "percent" || unit->text == "%") {
    if (!base.unit->dimension.is_ratio() || base.bare)
      return abs(mul(base.value, ExactInterval::point(*amount / 100)));
  }
  Measured difference;
  difference.unit = unit;
  if (!expect_dimension(context, difference, type, spread.span())) return std::nullopt;
  return scale_difference(context, *amount, *unit);
}

bool clear_ends(Context& context, const QuantitySyntax& lo, const QuantitySyntax& hi, const Unit& unit) {
  if (!lo.has_unit() || hi.has_unit() || !unit.dimension.is_ratio()) return true;
  const auto written = [&](const QuantitySyntax& end) {
    return std::string(context.sources.text(end.span()));
  };
  context.messages.add(Code::range_unit_unclear, hi.span(), {written(lo), written(hi)},
                       "write both ends alike: with the unit, or without");
  return false;
}

bool expect_dimension(Context& context, const Measured& measured, const Type& wanted, Span span,
                      const Unit* declared) {
  if (wanted.kind == TypeKind::error) return false;
  if (wanted.kind == TypeKind::quantity && compatible(measured.unit->dimension, wanted.dimension))
    return true;
  const std::string written(context.sources.text(span));
  if (wanted.kind == TypeKind::count) {
    if (measured.bare && measured.amount.is_whole() && measured.amount >= 0) return true;
    context.messages.add(Code::count_not_whole, span, {written});
    return false;
  }
  if (wanted.kind != TypeKind::quantity) {
    context.messages.add(Code::wrong_dimension, span, {type_text(context, wanted), "the number " + written});
    return false;
  }
  if (measured.bare) {
    context.messages
        .add(Code::unit_missing, span, {dimension_text(context, wanted.dimension), written},
             hint_for_missing_unit(context, wanted.dimension, declared))
        .wanted = wanted_dimension(context, wanted);
  } else {
    const std::string units = unit_example(context, wanted.dimension);
    context.messages
        .add(Code::wrong_dimension, span,
             {dimension_text(context, wanted.dimension), dimension_text(context, measured.unit->dimension)},
             units.empty() ? std::string{} : fmt::format("it is written in {}", units))
        .wanted = wanted_dimension(context, wanted);
  }
  return false;
}

std::optional<long> day_number(const Date& date) {
  using namespace std::chrono;
  const year_month_day day{year{date.year}, month{static_cast<unsigned>(date.month)},
                           std::chrono::day{static_cast<unsigned>(date.day)}};
  if (date.month < 1 || date.day < 1 || !day.ok()) return std::nullopt;
  return static_cast<long>(sys_days{day}.time_since_epoch().count());
}

}  // namespace mm

#include "report/numbers.hpp"

#include <fmt/format.h>

#include <cmath>
#include <iterator>
#include <vector>

#include "units/dimension_words.hpp"

namespace mm {

namespace {

constexpr int usual_exponents = 24;  // of ten, either way

/// `use(10^exponent)`; the usual ones are made once.
template <class Use>
auto with_power_of_ten(int exponent, Use use) {
  static const std::vector<Rational> usual = [] {
    std::vector<Rational> powers;
    for (int e = -usual_exponents; e <= usual_exponents; ++e) powers.push_back(whole_power(10, e));
    return powers;
  }();
  if (std::abs(exponent) > usual_exponents) return use(whole_power(10, exponent));
  return use(*std::next(usual.begin(), exponent + usual_exponents));
}

Rational times_power_of_ten(const Rational& value, int exponent) {
  return with_power_of_ten(exponent, [&](const Rational& power) { return value * power; });
}

/// 10^exponent is at most this.
bool reaches(const Rational& value, int exponent) {
  return with_power_of_ten(exponent, [&](const Rational& power) { return power <= value; });
}

/// Decimal exponent of the first digit: 1 for 10..99.
int magnitude(const Rational& positive) {
  constexpr double decimals = 0.30103;  // in a binary digit
  int guess = static_cast<int>(static_cast<double>(binary_exponent(positive)) * decimals);
  while (reaches(positive, guess + 1)) ++guess;
  while (!reaches(positive, guess)) --guess;
  return guess;
}

Rational to_whole(const Rational& value, Rounding rounding) {
  if (rounding == Rounding::up) return ceil(value);
  return floor(rounding == Rounding::nearest ? value + Rational(1, 2) : value);
}

const Rational& pi_value() {
  static const Rational value = *read_number("3.141592653589793238462643383279502884");
  return value;
}

/// Seven digits say it exactly?
bool is_short(const Rational& value) {
  if (value == 0) return true;
  return times_power_of_ten(value, 6 - magnitude(abs(value))).is_whole();
}

std::string point_text(const Rational& value, int digits, Rounding rounding) {
  return significant(value, is_short(value) ? 7 : digits, rounding);
}

ExactInterval scaled(const ExactInterval& base, const Unit& unit, bool difference) {
  ExactInterval out = base;
  if (!base.lo_infinite) out.lo_value = in_unit(base.lo_value, unit, difference);
  if (!base.hi_infinite) out.hi_value = in_unit(base.hi_value, unit, difference);
  return out;
}

/// Digits wanted for a bound of a range: as many as show its width with two digits.
int digits_for(const Rational& bound, const Rational& width) {
  if (is_short(bound) || bound == 0 || width <= 0) return 7;
  const int wanted = magnitude(abs(bound)) - magnitude(width) + 2;
  return wanted < 3 ? 3 : wanted > 12 ? 12 : wanted;
}

/// A bound rounded outward, but for an error of binary arithmetic beside a short number: 0.7999999999999998
/// is 0.8.
std::string bound_text(const Rational& bound, const Rational& size, int digits, Rounding rounding) {
  const std::string plain = significant(bound, 7);
  const auto shown = read_back(plain);
  if (shown && abs(*shown - bound) * 1'000'000'000'000 <= size) return plain;
  return significant(bound, digits, rounding);
}

}  // namespace

std::string significant(const Rational& value, int digits, Rounding rounding) {
  if (value == 0) return "0";
  const int top = magnitude(abs(value));
  const int places = digits - 1 - top;
  const Rational rounded = to_whole(times_power_of_ten(value, places), rounding);
  const Rational shown = times_power_of_ten(rounded, -places);
  if (shown == 0) return "0";
  const int shown_top = magnitude(abs(shown));
  if (shown_top >= -5 && shown_top <= 9) return decimal_text(shown, 40);
  return fmt::format("{}e{}", decimal_text(times_power_of_ten(shown, -shown_top), 40), shown_top);
}

std::optional<Rational> read_back(const std::string& text) {
  const bool negative = text.starts_with('-');
  const auto read = read_number(negative ? text.substr(1) : text);
  return read && negative ? -*read : read;
}

Rational in_steps(const Rational& base, const Unit& unit) {
  Rational value = base / unit.factor;
  for (int i = 0; i < std::abs(unit.pi_power); ++i)
    value = unit.pi_power > 0 ? value / pi_value() : value * pi_value();
  return value;
}

Rational in_unit(const Rational& base, const Unit& unit, bool difference) {
  if (unit.offset == 0) return in_steps(base, unit);
  return difference ? base : in_steps(base - unit.offset, unit);  // a difference is told in K
}

std::string unit_suffix(const Unit& unit, bool difference) {
  if (unit.text.empty()) return {};
  if (unit.text == "percent" || unit.text == "%") return "%";
  if (difference && unit.offset != 0) return " K";
  return " " + unit.text;
}

std::string number_text(const ExactInterval& base, const Unit& unit, bool difference, int point_digits,
                        Rounding rounding) {
  if (base.empty) return "no value";
  if (base.lo_infinite && base.hi_infinite) return "any value";
  const std::string suffix = unit_suffix(unit, difference);
  const ExactInterval value = scaled(base, unit, difference);
  if (base.hi_infinite) return "at least " + significant(value.lo_value, 7, Rounding::down) + suffix;
  if (base.lo_infinite) return "at most " + significant(value.hi_value, 7, Rounding::up) + suffix;
  const Rational width = value.hi_value - value.lo_value;
  const Rational size = std::max<Rational>(abs(value.lo_value), abs(value.hi_value));
  // outward rounding of binary arithmetic alone is not a spread that anybody stated
  if (width == 0 || width * 1'000'000'000 <= size) {
    const Rational middle = (value.lo_value + value.hi_value) / 2;
    if (width == 0) return point_text(middle, point_digits, rounding) + suffix;
    const int digits = 10;
    const std::string shorter = significant(middle, digits);
    const auto read = read_back(shorter);
    return (read && is_short(*read) ? shorter : significant(middle, point_digits, rounding)) + suffix;
  }
  const int digits = std::max(digits_for(value.lo_value, width), digits_for(value.hi_value, width));
  return bound_text(value.lo_value, size, digits, Rounding::down) + ".." +
         bound_text(value.hi_value, size, digits, Rounding::up) + suffix;
}

std::string number_text(const Interval& base, const Unit& unit, bool difference, int digits,
                        Rounding rounding) {
  return number_text(ExactInterval::from(base), unit, difference, digits, rounding);
}

std::string number_text(const Rational& base, const Unit& unit, bool difference) {
  return number_text(ExactInterval::point(base), unit, difference);
}

Unit usual_unit(const Type& type, const UnitTable& units, const Names& names) {
  const Unit usual = usual_unit(type.dimension, units, names);
  return usual.offset != 0 && type.is_difference() ? *units.find("K") : usual;
}

Unit unit_of(const AttributeDef& attribute, const UnitTable& units, const Names& names) {
  if (const Unit* unit = attribute.told_in()) return *unit;
  return attribute.type.kind == TypeKind::quantity ? usual_unit(attribute.type, units, names) : Unit{};
}

}  // namespace mm

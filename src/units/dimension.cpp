#include "units/dimension.hpp"

#include <limits>

#include "units/dimension_words.hpp"

namespace mm {
namespace {

constexpr std::string_view base_words[base_dimension_count] = {
    "length", "mass", "time", "temperature", "angle", "current", "amount", "luminous_intensity"};

bool narrow(int value, std::int16_t& out) {
  if (value < std::numeric_limits<std::int16_t>::min() || value > std::numeric_limits<std::int16_t>::max()) {
    return false;
  }
  out = static_cast<std::int16_t>(value);
  return true;
}

/// a + sign * b in every exponent.
std::optional<Dimension> combined(const Dimension& a, const Dimension& b, int sign) {
  Dimension result;
  for (std::size_t i = 0; i < base_dimension_count; ++i) {
    if (!narrow(a.twelfths[i] + sign * b.twelfths[i], result.twelfths[i])) return std::nullopt;
  }
  if (a.currency && b.currency && a.currency != b.currency) return std::nullopt;
  if (!narrow(a.currency_twelfths + sign * b.currency_twelfths, result.currency_twelfths))
    return std::nullopt;
  if (result.currency_twelfths != 0) result.currency = a.currency ? a.currency : b.currency;
  return result;
}

bool scaled(std::int16_t twelfths, const Rational& exponent, std::int16_t& out) {
  const Rational value = exponent * twelfths;
  const auto whole = whole_word(value);
  return whole && std::in_range<int>(*whole) && narrow(static_cast<int>(*whole), out);
}

void append_power(std::string& text, std::string_view word, int twelfths) {
  if (twelfths == 0) return;
  if (!text.empty()) text += '*';
  text += word;
  if (twelfths == 12) return;
  const Rational exponent = Rational(twelfths) / 12;
  const bool whole = exponent.is_whole();
  text += whole ? "^" : "^(";
  text += exponent.text();
  if (!whole) text += ')';
}

}  // namespace

bool Dimension::is_ratio() const {
  for (const std::int16_t exponent : twelfths) {
    if (exponent != 0) return false;
  }
  return currency_twelfths == 0;
}

bool compatible(const Dimension& a, const Dimension& b) {
  return a.twelfths == b.twelfths && a.currency == b.currency && a.currency_twelfths == b.currency_twelfths &&
         (a.tag == b.tag || a.tag == QuantityTag::none || b.tag == QuantityTag::none);
}

std::optional<Dimension> product(const Dimension& a, const Dimension& b) { return combined(a, b, 1); }

std::optional<Dimension> quotient(const Dimension& a, const Dimension& b) { return combined(a, b, -1); }

std::optional<Dimension> power(const Dimension& a, const Rational& exponent) {
  if (exponent == 1) return a;
  Dimension result;
  for (std::size_t i = 0; i < base_dimension_count; ++i) {
    if (!scaled(a.twelfths[i], exponent, result.twelfths[i])) return std::nullopt;
  }
  if (!scaled(a.currency_twelfths, exponent, result.currency_twelfths)) return std::nullopt;
  if (result.currency_twelfths != 0) result.currency = a.currency;
  return result;
}

std::string dimension_name(const Dimension& dimension, const Names& names) {
  if (dimension.currency_twelfths == 0) {
    const Dimension torque = find_dimension_word("torque")->dimension();
    if (dimension.twelfths == torque.twelfths && dimension.tag == QuantityTag::none)
      return "torque or energy";
    for (const DimensionWord& row : dimension_word_table()) {
      if (row.dimension() == dimension) return std::string(row.word);
    }
  }
  std::string text;
  if (dimension.currency_twelfths != 0)
    append_power(text, names.text(dimension.currency), dimension.currency_twelfths);
  for (std::size_t i = 0; i < base_dimension_count; ++i)
    append_power(text, base_words[i], dimension.twelfths[i]);
  return text;
}

}  // namespace mm

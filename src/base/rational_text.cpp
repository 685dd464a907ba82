// Numbers as a person writes them, read and written.
#include <cstdlib>
#include <limits>

#include "base/characters.hpp"
#include "base/rational.hpp"

namespace mm {
namespace {

constexpr std::size_t max_digits_read = 400;
constexpr std::size_t most_digits_in_word = std::numeric_limits<std::int64_t>::digits10;
constexpr long max_exponent_read = 300;

std::string_view take_digits(std::string_view& text) {
  std::size_t n = 0;
  while (n < text.size() && is_digit(text[n])) ++n;
  const std::string_view digits = text.substr(0, n);
  text.remove_prefix(n);
  return digits;
}

/// "12", "0.43", ".5" in machine words, as nearly all are; nullopt for every other text.
std::optional<Rational> read_short(std::string_view text) {
  if (text.size() > most_digits_in_word + 1) return std::nullopt;
  std::int64_t digits = 0, scale = 1;
  std::size_t count = 0;
  bool point = false;
  for (const char c : text) {
    if (c == '.' && !point) {
      point = true;
      continue;
    }
    if (!is_digit(c) || ++count > most_digits_in_word) return std::nullopt;
    digits = digits * 10 + (c - '0');
    if (point) scale *= 10;
  }
  if (count == 0 || text.back() == '.') return std::nullopt;
  return Rational(digits, scale);
}

Rational whole_number(std::string_view digits) {
  if (const auto number = read_short(digits)) return *number;
  return Rational(mpq_class(mpz_class(std::string(digits), 10)));
}

/// The "e-3" of a decimal; false when it is malformed or too large.
bool take_exponent(std::string_view& text, long& exponent) {
  exponent = 0;
  if (text.empty()) return true;
  if (text.front() != 'e' && text.front() != 'E') return false;
  text.remove_prefix(1);
  bool negative = false;
  if (!text.empty() && (text.front() == '+' || text.front() == '-')) {
    negative = text.front() == '-';
    text.remove_prefix(1);
  }
  const std::string_view digits = take_digits(text);
  if (digits.empty()) return false;
  for (const char c : digits) {
    exponent = exponent * 10 + (c - '0');
    if (exponent > max_exponent_read) return false;
  }
  if (negative) exponent = -exponent;
  return true;
}

/// What follows the slash of "3/8": the denominator, up to the end of the text.
std::optional<Rational> read_fraction(std::string_view numerator, std::string_view rest) {
  const std::string_view denominator = take_digits(rest);
  if (denominator.empty() || !rest.empty()) return std::nullopt;
  const Rational bottom = whole_number(denominator);
  if (bottom == 0) return std::nullopt;
  return whole_number(numerator) / bottom;
}

std::optional<Rational> read_decimal(std::string_view whole, std::string_view rest) {
  std::string digits(whole);
  long scale = 0;
  if (!rest.empty() && rest.front() == '.') {
    rest.remove_prefix(1);
    const std::string_view places = take_digits(rest);
    if (places.empty()) return std::nullopt;
    digits += places;
    scale = static_cast<long>(places.size());
  }
  long exponent = 0;
  if (digits.empty() || !take_exponent(rest, exponent) || !rest.empty()) return std::nullopt;
  const long shift = exponent - scale;
  const auto magnitude = static_cast<unsigned long>(std::labs(shift));
  if (shift < 0 ? magnitude > max_digits_read : digits.size() + magnitude > max_digits_read)
    return std::nullopt;
  return whole_number(digits) * whole_power(10, shift);
}

/// Of a number with few digits, as nearly all are: the whole number of its last place, and the places.
std::optional<std::pair<std::int64_t, std::size_t>> few_digits(const Rational& value,
                                                               std::size_t most_places) {
  const Ratio* ratio = value.small();
  if (ratio == nullptr) return std::nullopt;
  std::int64_t scale = 1, scaled = 0;
  std::size_t places = 0;
  for (; scale % ratio->bottom != 0; ++places)
    if (places == most_places || __builtin_mul_overflow(scale, 10, &scale)) return std::nullopt;
  if (__builtin_mul_overflow(ratio->top, scale / ratio->bottom, &scaled) ||
      scaled == std::numeric_limits<std::int64_t>::min())
    return std::nullopt;
  return std::pair(scaled, places);
}

std::string with_point(std::string digits, std::size_t places) {
  if (digits.size() <= places) digits.insert(0, places + 1 - digits.size(), '0');
  if (places > 0) {
    digits.insert(digits.size() - places, 1, '.');
    digits.erase(digits.find_last_not_of('0') + 1);
    if (digits.back() == '.') digits.pop_back();
  }
  return digits;
}

}  // namespace

std::optional<Rational> read_number(std::string_view text) {
  if (auto number = read_short(text)) return number;
  if (text.size() > max_digits_read + 10) return std::nullopt;
  const std::string_view first = take_digits(text);
  if (first.size() > max_digits_read) return std::nullopt;
  if (!first.empty() && !text.empty() && text.front() == '/') return read_fraction(first, text.substr(1));
  if (!first.empty() && !text.empty() && text.front() == ' ') {
    while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
    const std::string_view numerator = take_digits(text);
    if (numerator.empty() || text.empty() || text.front() != '/') return std::nullopt;
    const auto fraction = read_fraction(numerator, text.substr(1));
    if (!fraction) return std::nullopt;
    return whole_number(first) + *fraction;
  }
  return read_decimal(first, text);
}

std::string decimal_text(const Rational& value, int max_digits) {
  const auto places = static_cast<std::size_t>(max_digits < 0 ? 0 : max_digits);
  if (const auto few = few_digits(value, places)) {
    const std::string digits =
        with_point(std::to_string(few->first < 0 ? -few->first : few->first), few->second);
    return few->first < 0 ? "-" + digits : digits;
  }
  // in units of the last place, halves up
  const Rational scaled = abs(value) * whole_power(10, static_cast<long>(places));
  std::string digits = with_point(floor(scaled + Rational(1, 2)).text(), places);
  if (value.sign() < 0 && digits != "0") digits.insert(0, 1, '-');
  return digits;
}

std::string nonzero_decimal_text(const Rational& value, int max_digits) {
  std::string plain = decimal_text(value, max_digits);
  if (plain != "0" || value == 0) return plain;
  constexpr int most_places = 10;
  int exponent = 0;
  Rational first = value;
  for (; abs(first) < 1; --exponent) first *= 10;
  if (exponent > -most_places) return decimal_text(value, 1 - exponent);
  return decimal_text(first, 1) + "e" + std::to_string(exponent);
}

}  // namespace mm

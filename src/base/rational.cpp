#include "base/rational.hpp"

#include <cmath>
#include <cstdlib>
#include <limits>

#include "base/ratio.hpp"

namespace mm {
namespace {

constexpr std::size_t max_digits_read = 400;
constexpr long max_exponent_read = 300;

bool is_digit(char c) { return c >= '0' && c <= '9'; }

std::string_view take_digits(std::string_view& text) {
  std::size_t n = 0;
  while (n < text.size() && is_digit(text[n])) ++n;
  const std::string_view digits = text.substr(0, n);
  text.remove_prefix(n);
  return digits;
}

Rational whole_number(std::string_view digits) { return Rational(mpz_class(std::string(digits), 10)); }

mpz_class power_of_ten(unsigned long n) {
  mpz_class result;
  mpz_ui_pow_ui(result.get_mpz_t(), 10, n);
  return result;
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
  Rational bottom = whole_number(denominator);
  if (bottom == 0) return std::nullopt;
  return Rational(whole_number(numerator) / bottom);
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
  const Rational value = whole_number(digits);
  const Rational factor(power_of_ten(magnitude));
  if (shift < 0) return Rational(value / factor);
  return Rational(value * factor);
}

/// Nearest double towards zero, or an infinity; GMP truncates without regard to the rounding mode.
double truncated(const Rational& value) { return mpq_get_d(value.get_mpq_t()); }

}  // namespace

std::optional<Rational> read_number(std::string_view text) {
  if (const auto ratio = read_ratio(text)) return exact(*ratio);
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
    return Rational(whole_number(first) + *fraction);
  }
  return read_decimal(first, text);
}

double round_down(const Rational& value) {
  if (const auto ratio = ratio_of(value); ratio && fits_doubles(*ratio)) return round_down(*ratio);
  constexpr double infinity = std::numeric_limits<double>::infinity();
  double d = truncated(value);
  if (d == infinity) return std::numeric_limits<double>::max();
  if (d == -infinity) return d;
  while (exact(d) > value) {
    if (d == std::numeric_limits<double>::lowest()) return -infinity;
    d = std::nextafter(d, -infinity);
  }
  return d;
}

double round_up(const Rational& value) {
  if (const auto ratio = ratio_of(value); ratio && fits_doubles(*ratio)) return round_up(*ratio);
  return -round_down(-value);
}

Rational exact(double value) { return Rational(value); }

namespace {

/// Of a number with few digits, as nearly all are: the whole number of its last place, and the places.
std::optional<std::pair<std::int64_t, std::size_t>> few_digits(const Rational& value,
                                                               std::size_t most_places) {
  const auto ratio = ratio_of(value);
  if (!ratio) return std::nullopt;
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

std::string decimal_text(const Rational& value, int max_digits) {
  const auto places = static_cast<std::size_t>(max_digits < 0 ? 0 : max_digits);
  if (const auto few = few_digits(value, places)) {
    const std::string digits =
        with_point(std::to_string(few->first < 0 ? -few->first : few->first), few->second);
    return few->first < 0 ? "-" + digits : digits;
  }
  const mpz_class scale = power_of_ten(places);
  const mpz_class top = ::abs(value.get_num()) * scale * 2 + value.get_den();
  mpz_class scaled;  // |value| in units of the last place, halves up
  mpz_fdiv_q(scaled.get_mpz_t(), top.get_mpz_t(), mpz_class(value.get_den() * 2).get_mpz_t());
  std::string digits = with_point(scaled.get_str(10), places);
  if (sgn(value) < 0 && digits != "0") digits.insert(0, 1, '-');
  return digits;
}

}  // namespace mm

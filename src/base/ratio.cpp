#include "base/ratio.hpp"

#include <cmath>
#include <limits>
#include <numeric>

namespace mm {

namespace {

constexpr std::size_t most_digits = std::numeric_limits<std::int64_t>::digits10;
static_assert(sizeof(long) == sizeof(std::int64_t), "GMP takes longs");

/// a / b with b a power of ten.
Ratio lowest(std::int64_t a, std::int64_t b) {
  if (b == 1) return {a, 1};
  const std::int64_t common = std::gcd(a, b);
  return {a / common, b / common};
}

}  // namespace

std::optional<Ratio> read_ratio(std::string_view text) {
  if (text.size() > most_digits + 1) return std::nullopt;
  std::int64_t digits = 0, scale = 1;
  std::size_t count = 0;
  bool point = false;
  for (const char c : text) {
    if (c == '.' && !point) {
      point = true;
      continue;
    }
    if (c < '0' || c > '9' || ++count > most_digits) return std::nullopt;
    digits = digits * 10 + (c - '0');
    if (point) scale *= 10;
  }
  if (count == 0 || text.back() == '.') return std::nullopt;
  return lowest(digits, scale);
}

std::optional<Ratio> ratio_of(const Rational& value) {
  const mpz_srcptr top = value.get_num_mpz_t(), bottom = value.get_den_mpz_t();
  if (mpz_fits_slong_p(top) == 0 || mpz_fits_slong_p(bottom) == 0) return std::nullopt;
  const Ratio ratio{mpz_get_si(top), mpz_get_si(bottom)};
  if (ratio.top == std::numeric_limits<std::int64_t>::min())
    return std::nullopt;  // so that every one has a negative
  return ratio;
}

std::optional<Ratio> product(Ratio a, Ratio b) {
  const auto common = [](std::int64_t top, std::int64_t bottom) {
    return bottom == 1 ? 1 : top == 1 ? 1 : std::gcd(top, bottom);
  };
  const std::int64_t left = common(a.top, b.bottom), right = common(b.top, a.bottom);
  Ratio result;
  if (__builtin_mul_overflow(a.top / left, b.top / right, &result.top) ||
      __builtin_mul_overflow(a.bottom / right, b.bottom / left, &result.bottom) ||
      result.top == std::numeric_limits<std::int64_t>::min())
    return std::nullopt;
  return result;
}

std::optional<Ratio> sum(Ratio a, Ratio b) {
  std::int64_t left = 0, right = 0, top = 0, bottom = 0;
  if (a.bottom == b.bottom) {
    if (__builtin_add_overflow(a.top, b.top, &top)) return std::nullopt;
    bottom = a.bottom;
  } else {
    const std::int64_t common = std::gcd(a.bottom, b.bottom);
    if (__builtin_mul_overflow(a.top, b.bottom / common, &left) ||
        __builtin_mul_overflow(b.top, a.bottom / common, &right) ||
        __builtin_add_overflow(left, right, &top) ||
        __builtin_mul_overflow(a.bottom, b.bottom / common, &bottom))
      return std::nullopt;
  }
  if (top == std::numeric_limits<std::int64_t>::min()) return std::nullopt;
  return lowest(top, bottom);
}

int compare(Ratio a, Ratio b) {
  __extension__ using Wide = __int128;
  const Wide left = static_cast<Wide>(a.top) * b.bottom, right = static_cast<Wide>(b.top) * a.bottom;
  return left < right ? -1 : left > right ? 1 : 0;
}

int compare(const Rational& a, Ratio b) {
  return mpq_cmp_si(a.get_mpq_t(), b.top, static_cast<unsigned long>(b.bottom));
}

void assign(Rational& to, Ratio value) {
  mpz_set_si(to.get_num_mpz_t(), value.top);
  mpz_set_si(to.get_den_mpz_t(), value.bottom);
}

Rational exact(Ratio value) {
  Rational result;
  assign(result, value);
  return result;
}

bool fits_doubles(Ratio value) {
  constexpr std::int64_t most = std::int64_t{1} << std::numeric_limits<double>::digits;
  return value.top <= most && value.top >= -most && value.bottom <= most;
}

double round_down(Ratio value) {
  if (!fits_doubles(value)) return round_down(exact(value));
  // one division and the sign of its exact remainder give the answer, in any rounding mode
  const auto n = static_cast<double>(value.top), d = static_cast<double>(value.bottom);
  const double quotient = n / d;
  const double remainder = std::fma(-quotient, d, n);
  return remainder < 0 ? std::nextafter(quotient, -std::numeric_limits<double>::infinity()) : quotient;
}

double round_up(Ratio value) { return -round_down(-value); }

}  // namespace mm

#include "base/ratio.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <limits>
#include <numeric>

namespace mm {

namespace {

constexpr std::int64_t least_word = std::numeric_limits<std::int64_t>::min();

}  // namespace

std::optional<Ratio> lowest_terms(std::int64_t top, std::int64_t bottom) {
  if (top == least_word || bottom == least_word) return std::nullopt;
  if (bottom < 0) {
    top = -top;
    bottom = -bottom;
  }
  if (bottom == 1) return Ratio{top, 1};
  const std::int64_t common = std::gcd(top, bottom);
  return Ratio{top / common, bottom / common};
}

std::optional<Ratio> product(Ratio a, Ratio b) {
  const auto common = [](std::int64_t top, std::int64_t bottom) {
    return bottom == 1 ? 1 : top == 1 ? 1 : std::gcd(top, bottom);
  };
  const std::int64_t left = common(a.top, b.bottom), right = common(b.top, a.bottom);
  Ratio result;
  if (__builtin_mul_overflow(a.top / left, b.top / right, &result.top) ||
      __builtin_mul_overflow(a.bottom / right, b.bottom / left, &result.bottom) || result.top == least_word)
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
  return lowest_terms(top, bottom);
}

int compare(Ratio a, Ratio b) {
  __extension__ using Wide = __int128;
  const Wide left = static_cast<Wide>(a.top) * b.bottom, right = static_cast<Wide>(b.top) * a.bottom;
  return left < right ? -1 : left > right ? 1 : 0;
}

namespace {

constexpr std::int64_t most_exact = std::int64_t{1} << mantissa_bits;  // as a double, either sign

bool is_power_of_two(std::int64_t bottom) { return (bottom & (bottom - 1)) == 0; }
bool is_exact(std::int64_t top) { return top <= most_exact && top >= -most_exact; }

}  // namespace

bool rounds_alone(Ratio value) {
  return is_power_of_two(value.bottom) || (is_exact(value.top) && value.bottom <= most_exact);
}

double round_down(Ratio value) {
  const auto n = static_cast<double>(value.top), d = static_cast<double>(value.bottom);
  if (is_power_of_two(value.bottom)) {  // as what doubles add up to
    if (is_exact(value.top)) return n / d;
    const auto size = static_cast<std::uint64_t>(value.top < 0 ? -value.top : value.top);
    const int beyond = std::max(static_cast<int>(std::bit_width(size)) - mantissa_bits, 0);
    return std::ldexp(static_cast<double>(value.top >> beyond),
                      beyond - std::countr_zero(static_cast<std::uint64_t>(value.bottom)));
  }
  // one division and the sign of its exact remainder give the answer, in any rounding mode
  const double quotient = n / d;
  const double remainder = std::fma(-quotient, d, n);
  return remainder < 0 ? std::nextafter(quotient, -std::numeric_limits<double>::infinity()) : quotient;
}

}  // namespace mm

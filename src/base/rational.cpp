#include "base/rational.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <limits>

namespace mm {
namespace {

static_assert(sizeof(long) == sizeof(std::int64_t), "GMP takes longs");

std::optional<Ratio> small_of(const mpq_class& value) {
  const mpz_srcptr top = value.get_num_mpz_t(), bottom = value.get_den_mpz_t();
  if (mpz_fits_slong_p(top) == 0 || mpz_fits_slong_p(bottom) == 0) return std::nullopt;
  const Ratio ratio{mpz_get_si(top), mpz_get_si(bottom)};
  if (ratio.top == std::numeric_limits<std::int64_t>::min()) return std::nullopt;
  return ratio;
}

mpq_class gmp_of(Ratio value) {
  mpq_class result;
  mpz_set_si(result.get_num_mpz_t(), value.top);
  mpz_set_si(result.get_den_mpz_t(), value.bottom);
  return result;
}

Ratio inverse(Ratio value) {
  return value.top < 0 ? Ratio{-value.bottom, -value.top} : Ratio{value.bottom, value.top};
}

}  // namespace

Rational::Rational(std::int64_t top, std::int64_t bottom) {
  if (const auto small = lowest_terms(top, bottom)) {
    words_ = *small;
  } else {
    mpq_class large(static_cast<long>(top), static_cast<long>(bottom));
    large.canonicalize();
    take(std::move(large));
  }
}

void Rational::take(std::int64_t value) {
  if (value == std::numeric_limits<std::int64_t>::min()) {
    keep(mpq_class(static_cast<long>(value)));
  } else {
    words_.top = value;
  }
}

void Rational::take(std::uint64_t value) {
  if (value > static_cast<std::uint64_t>(std::numeric_limits<std::int64_t>::max())) {
    keep(mpq_class(static_cast<unsigned long>(value)));
  } else {
    words_.top = static_cast<std::int64_t>(value);
  }
}

void Rational::take(mpq_class&& value) {
  if (const auto small = small_of(value)) {
    words_ = *small;
  } else {
    keep(std::move(value));
  }
}

void Rational::keep(mpq_class value) {
  words_ = {std::bit_cast<std::int64_t>(new mpq_class(std::move(value))), 0};
}

void Rational::drop() { delete large(); }

mpq_class Rational::gmp() const { return is_large() ? *large() : gmp_of(words_); }

double Rational::to_double() const {
  if (is_large()) return large()->get_d();
  return static_cast<double>(words_.top) / static_cast<double>(words_.bottom);
}

std::string Rational::text() const {
  if (is_large()) return large()->get_str();
  const std::string top = std::to_string(words_.top);
  return words_.bottom == 1 ? top : top + "/" + std::to_string(words_.bottom);
}

Rational Rational::operator-() const {
  return is_large() ? Rational(mpq_class(-*large())) : Rational(-words_);
}

namespace {

/// A number as GMP takes it, without a copy where it is GMP's already.
class Lent {
 public:
  explicit Lent(const Rational& number) {
    if (const Ratio* small = number.small()) {
      number_ = made_.emplace(gmp_of(*small)).get_mpq_t();
    } else {
      number_ = number.large()->get_mpq_t();
    }
  }
  Lent(const Lent&) = delete;
  Lent& operator=(const Lent&) = delete;
  operator mpq_srcptr() const { return number_; }

 private:
  std::optional<mpq_class> made_;
  mpq_srcptr number_ = nullptr;
};

Rational by_gmp(void (*operation)(mpq_ptr, mpq_srcptr, mpq_srcptr), const Rational& a, const Rational& b) {
  mpq_class result;
  operation(result.get_mpq_t(), Lent(a), Lent(b));
  return Rational(std::move(result));
}

}  // namespace

Rational operator+(const Rational& a, const Rational& b) {
  if (!a.is_large() && !b.is_large())
    if (const auto small = sum(a.words_, b.words_)) return *small;
  return by_gmp(mpq_add, a, b);
}

Rational operator-(const Rational& a, const Rational& b) {
  if (!a.is_large() && !b.is_large())
    if (const auto small = sum(a.words_, -b.words_)) return *small;
  return by_gmp(mpq_sub, a, b);
}

Rational operator*(const Rational& a, const Rational& b) {
  if (!a.is_large() && !b.is_large())
    if (const auto small = product(a.words_, b.words_)) return *small;
  return by_gmp(mpq_mul, a, b);
}

Rational operator/(const Rational& a, const Rational& b) {
  if (!a.is_large() && !b.is_large())
    if (const auto small = product(a.words_, inverse(b.words_))) return *small;
  return by_gmp(mpq_div, a, b);
}

int compare(const Rational& a, const Rational& b) {
  if (!a.is_large() && !b.is_large()) return compare(a.words_, b.words_);
  if (!b.is_large())
    return mpq_cmp_si(a.large()->get_mpq_t(), b.words_.top, static_cast<unsigned long>(b.words_.bottom));
  if (!a.is_large()) return -compare(b, a);
  return cmp(*a.large(), *b.large());
}

Rational abs(const Rational& value) { return value.sign() < 0 ? -value : value; }

Rational floor(const Rational& value) {
  if (const Ratio* small = value.small()) {
    const std::int64_t towards_zero = small->top / small->bottom;
    return small->top < 0 && small->bottom != 1 ? towards_zero - 1 : towards_zero;
  }
  const mpq_class& large = *value.large();
  mpz_class whole;
  mpz_fdiv_q(whole.get_mpz_t(), large.get_num_mpz_t(), large.get_den_mpz_t());
  return Rational(mpq_class(whole));
}

Rational ceil(const Rational& value) { return -floor(-value); }

Rational times_power_of_two(const Rational& value, long power) {
  mpq_class large = value.gmp();
  if (power >= 0) {
    mpq_mul_2exp(large.get_mpq_t(), large.get_mpq_t(), static_cast<mp_bitcnt_t>(power));
  } else {
    mpq_div_2exp(large.get_mpq_t(), large.get_mpq_t(), static_cast<mp_bitcnt_t>(-power));
  }
  return Rational(std::move(large));
}

Rational whole_power(const Rational& base, long exponent) {
  const mpq_class large = base.gmp();
  const auto n = exponent < 0 ? -static_cast<unsigned long>(exponent) : static_cast<unsigned long>(exponent);
  mpq_class result;
  mpz_pow_ui(result.get_num_mpz_t(), large.get_num_mpz_t(), n);
  mpz_pow_ui(result.get_den_mpz_t(), large.get_den_mpz_t(), n);
  Rational power(std::move(result));
  return exponent < 0 ? 1 / power : power;
}

std::optional<Rational> exact_root(const Rational& value, unsigned long degree) {
  if (value.sign() < 0) return std::nullopt;
  const mpq_class large = value.gmp();
  mpq_class root;
  if (mpz_root(root.get_num_mpz_t(), large.get_num_mpz_t(), degree) == 0 ||
      mpz_root(root.get_den_mpz_t(), large.get_den_mpz_t(), degree) == 0)
    return std::nullopt;
  return Rational(std::move(root));
}

namespace {

struct Sides {
  std::size_t top, bottom;
};

Sides binary_digits(const Rational& value) {
  if (const Ratio* small = value.small()) {
    const auto top = static_cast<std::uint64_t>(small->top < 0 ? -small->top : small->top);
    return {static_cast<std::size_t>(std::max(static_cast<int>(std::bit_width(top)), 1)),
            static_cast<std::size_t>(std::bit_width(static_cast<std::uint64_t>(small->bottom)))};
  }
  const mpq_class& large = *value.large();
  return {mpz_sizeinbase(large.get_num_mpz_t(), 2), mpz_sizeinbase(large.get_den_mpz_t(), 2)};
}

}  // namespace

std::size_t bits(const Rational& value) {
  const Sides digits = binary_digits(value);
  return std::max(digits.top, digits.bottom);
}

long binary_exponent(const Rational& value) {
  const Sides digits = binary_digits(value);
  return static_cast<long>(digits.top) - static_cast<long>(digits.bottom);
}

std::optional<std::int64_t> whole_word(const Rational& value) {
  const Ratio* small = value.small();
  return small != nullptr && small->bottom == 1 ? std::optional(small->top) : std::nullopt;
}

double round_down(const Rational& value) {
  if (const Ratio* small = value.small(); small != nullptr && rounds_alone(*small)) return round_down(*small);
  constexpr double infinity = std::numeric_limits<double>::infinity();
  // towards zero, or an infinity; GMP truncates without regard to the rounding mode
  double d = mpq_get_d(Lent(value));
  if (d == infinity) return std::numeric_limits<double>::max();
  if (d == -infinity) return d;
  while (exact(d) > value) {
    if (d == std::numeric_limits<double>::lowest()) return -infinity;
    d = std::nextafter(d, -infinity);
  }
  return d;
}

double round_up(const Rational& value) {
  if (const Ratio* small = value.small(); small != nullptr && rounds_alone(*small))
    return -round_down(-*small);
  return -round_down(-value);
}

double round_nearest(const Rational& value) {
  const double low = round_down(value), high = round_up(value);
  if (low == high || !std::isfinite(low)) return low;
  if (!std::isfinite(high)) return high;
  const int nearer = compare(value - exact(low), exact(high) - value);
  const bool low_is_even = (std::bit_cast<std::uint64_t>(low) & 1U) == 0;
  return nearer < 0 || (nearer == 0 && low_is_even) ? low : high;
}

Rational exact(double value) {
  // mantissa * 2^exponent, the mantissa odd
  int exponent = 0;
  auto mantissa = static_cast<std::int64_t>(std::ldexp(std::frexp(value, &exponent), mantissa_bits));
  if (mantissa == 0) return 0;
  const int zeros = std::countr_zero(static_cast<std::uint64_t>(mantissa));
  mantissa >>= zeros;
  exponent += zeros - mantissa_bits;
  constexpr int most = std::numeric_limits<std::int64_t>::digits - 1;
  if (exponent < 0 && exponent >= -most) return Ratio{mantissa, std::int64_t{1} << -exponent};
  if (exponent >= 0 && exponent + mantissa_bits <= most) return mantissa * (std::int64_t{1} << exponent);
  return Rational(mpq_class(value));
}

}  // namespace mm

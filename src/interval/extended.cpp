#include "interval/extended.hpp"

#include <algorithm>

#include "interval/mpfr_number.hpp"

namespace mm {
namespace {

constexpr std::size_t most_bits = 4096;
constexpr mpfr_prec_t rounded_bits = 256;
constexpr long exponent_limit = 3800;

Extended too_large(int sign, Outward side) {
  const bool away = (sign > 0) == (side == Outward::up);
  if (away) return Extended::infinity(sign);
  return {times_power_of_two(sign, exponent_limit), 0};
}

Extended too_small(int sign, Outward side) {
  const bool away = (sign > 0) == (side == Outward::up);
  if (!away) return {};
  return {times_power_of_two(sign, -exponent_limit), 0};
}

}  // namespace

int compare(const Extended& a, const Extended& b) {
  if (a.infinite != 0 || b.infinite != 0) return a.infinite - b.infinite;
  return compare(a.value, b.value);
}

Extended times(const Extended& a, const Extended& b) {
  if (a.infinite == 0 && b.infinite == 0) return {a.value * b.value, 0};
  return Extended::infinity(a.sign() * b.sign());
}

Extended limited(mpfr_srcptr bound, Outward side) {
  if (mpfr_zero_p(bound)) return {};
  const int sign = mpfr_sgn(bound);
  if (mpfr_inf_p(bound)) return too_large(sign, side);
  MpfrNumber shorter(rounded_bits);
  mpfr_set(shorter.get(), bound, side == Outward::up ? MPFR_RNDU : MPFR_RNDD);
  if (mpfr_inf_p(shorter.get()) || mpfr_get_exp(shorter.get()) > exponent_limit) return too_large(sign, side);
  if (mpfr_zero_p(shorter.get()) || mpfr_get_exp(shorter.get()) < -exponent_limit)
    return too_small(sign, side);
  mpq_class value;
  mpfr_get_q(value.get_mpq_t(), shorter.get());
  return {Rational(std::move(value)), 0};
}

bool is_small(const Rational& value) { return value.small() != nullptr || bits(value) <= most_bits; }

Extended limited(Extended bound, Outward side) {
  if (bound.infinite != 0) return bound;
  if (is_small(bound.value)) return bound;
  MpfrNumber value(rounded_bits);
  mpfr_set_q(value.get(), bound.value.gmp().get_mpq_t(), side == Outward::up ? MPFR_RNDU : MPFR_RNDD);
  return limited(value.get(), side);
}

ExactInterval interval_of(const Extended& lo, const Extended& hi) {
  ExactInterval result;
  result.lo_value = lo.value;
  result.hi_value = hi.value;
  result.lo_infinite = lo.infinite != 0;
  result.hi_infinite = hi.infinite != 0;
  return result;
}

ExactInterval limited_interval(const Extended& lo, const Extended& hi) {
  return interval_of(limited(lo, Outward::down), limited(hi, Outward::up));
}

}  // namespace mm

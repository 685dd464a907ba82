#include "interval/exact_interval.hpp"

#include <algorithm>
#include <cmath>

#include "interval/domain.hpp"
#include "interval/extended.hpp"

namespace mm {
namespace {

Extended sum(const Extended& a, const Extended& b) {
  if (a.infinite != 0) return a;
  if (b.infinite != 0) return b;
  return {a.value + b.value, 0};
}

Extended opposite(const Extended& a) { return {-a.value, -a.infinite}; }

Extended inverse(const Extended& a) { return a.infinite != 0 ? Extended{} : Extended{1 / a.value, 0}; }

template <class Function>
ExactInterval stepwise(const ExactInterval& a, Function f) {
  if (a.empty) return a;
  ExactInterval result = a;
  if (!a.lo_infinite) result.lo_value = f(a.lo_value);
  if (!a.hi_infinite) result.hi_value = f(a.hi_value);
  return result;
}

Rational round_of(const Rational& x) {
  const Rational half(1, 2);
  return x.sign() < 0 ? ceil(x - half) : floor(x + half);
}

}  // namespace

ExactInterval ExactInterval::point(Rational x) {
  Rational copy = x;
  return of(std::move(copy), std::move(x));
}

ExactInterval ExactInterval::of(Rational lo, Rational hi) {
  ExactInterval result;
  result.lo_value = std::move(lo);
  result.hi_value = std::move(hi);
  return result;
}

ExactInterval ExactInterval::entire() { return interval_of(Extended::infinity(-1), Extended::infinity(1)); }

ExactInterval ExactInterval::none() {
  ExactInterval result;
  result.empty = true;
  return result;
}

ExactInterval ExactInterval::from(Interval a) {
  if (a.is_empty()) return none();
  const auto bound = [](double x) {
    return std::isinf(x) ? Extended::infinity(x > 0 ? 1 : -1) : Extended{exact(x), 0};
  };
  return interval_of(bound(a.lo()), bound(a.hi));
}

bool ExactInterval::is_point() const {
  return !empty && !lo_infinite && !hi_infinite && lo_value == hi_value;
}

bool ExactInterval::contains(const Rational& x) const {
  return !empty && (lo_infinite || lo_value <= x) && (hi_infinite || x <= hi_value);
}

Interval to_interval(const ExactInterval& a) {
  constexpr double infinity = std::numeric_limits<double>::infinity();
  if (a.empty) return Interval::empty();
  return Interval::of(a.lo_infinite ? -infinity : round_down(a.lo_value),
                      a.hi_infinite ? infinity : round_up(a.hi_value));
}

namespace {

bool is_finite(const ExactInterval& a) { return !a.empty && !a.lo_infinite && !a.hi_infinite; }

/// The usual case, without copies of what goes in.
ExactInterval of_finite(ExactInterval&& result) {
  if (is_small(result.lo_value) && is_small(result.hi_value)) return std::move(result);
  return limited_interval(lo_bound(result), hi_bound(result));
}

}  // namespace

ExactInterval add(const ExactInterval& a, const ExactInterval& b) {
  if (is_finite(a) && is_finite(b))
    return of_finite(ExactInterval::of(a.lo_value + b.lo_value, a.hi_value + b.hi_value));
  if (a.empty || b.empty) return ExactInterval::none();
  return limited_interval(sum(lo_bound(a), lo_bound(b)), sum(hi_bound(a), hi_bound(b)));
}

ExactInterval sub(const ExactInterval& a, const ExactInterval& b) {
  if (is_finite(a) && is_finite(b))
    return of_finite(ExactInterval::of(a.lo_value - b.hi_value, a.hi_value - b.lo_value));
  return add(a, neg(b));
}

ExactInterval neg(const ExactInterval& a) {
  return a.empty ? a : interval_of(opposite(hi_bound(a)), opposite(lo_bound(a)));
}

ExactInterval mul(const ExactInterval& a, const ExactInterval& b) {
  if (a.empty || b.empty) return ExactInterval::none();
  if (a.is_point() && b.is_point()) return of_finite(ExactInterval::point(a.lo_value * b.lo_value));
  if (a.is_point() && a.lo_value == 1) return b;
  const Extended corners[] = {times(lo_bound(a), lo_bound(b)), times(lo_bound(a), hi_bound(b)),
                              times(hi_bound(a), lo_bound(b)), times(hi_bound(a), hi_bound(b))};
  const auto [least, most] = std::minmax_element(std::begin(corners), std::end(corners));
  return limited_interval(*least, *most);
}

ExactInterval div(const ExactInterval& a, const ExactInterval& b, Domain* domain) {
  if (a.empty || b.empty) return ExactInterval::none();
  if (!holds_zero(b)) return mul(a, interval_of(inverse(hi_bound(b)), inverse(lo_bound(b))));
  if (b.is_point()) {
    lower(domain, Domain::none);
    return ExactInterval::none();
  }
  lower(domain, Domain::part);
  if (a.is_point() && a.lo_value == 0) return a;
  const int low = lo_bound(b).sign(), high = hi_bound(b).sign();
  const bool a_mixed = lo_bound(a).sign() < 0 && hi_bound(a).sign() > 0;
  if (a_mixed || (low < 0 && high > 0)) return ExactInterval::entire();
  if (high > 0) return mul(a, interval_of(inverse(hi_bound(b)), Extended::infinity(1)));
  return mul(a, interval_of(Extended::infinity(-1), inverse(lo_bound(b))));
}

ExactInterval abs(const ExactInterval& a) {
  if (a.empty || lo_bound(a).sign() >= 0) return a;
  if (hi_bound(a).sign() <= 0) return neg(a);
  return interval_of(Extended{}, std::max(opposite(lo_bound(a)), hi_bound(a)));
}

ExactInterval min(const ExactInterval& a, const ExactInterval& b) {
  if (a.empty || b.empty) return ExactInterval::none();
  return interval_of(std::min(lo_bound(a), lo_bound(b)), std::min(hi_bound(a), hi_bound(b)));
}

ExactInterval max(const ExactInterval& a, const ExactInterval& b) {
  if (a.empty || b.empty) return ExactInterval::none();
  return interval_of(std::max(lo_bound(a), lo_bound(b)), std::max(hi_bound(a), hi_bound(b)));
}

ExactInterval floor(const ExactInterval& a) {
  return stepwise(a, [](const Rational& x) { return floor(x); });
}
ExactInterval ceil(const ExactInterval& a) {
  return stepwise(a, [](const Rational& x) { return ceil(x); });
}
ExactInterval round_half_away(const ExactInterval& a) { return stepwise(a, round_of); }

ExactInterval hull(const ExactInterval& a, const ExactInterval& b) {
  if (a.empty) return b;
  if (b.empty) return a;
  return interval_of(std::min(lo_bound(a), lo_bound(b)), std::max(hi_bound(a), hi_bound(b)));
}

ExactInterval intersect(const ExactInterval& a, const ExactInterval& b) {
  if (a.empty || b.empty) return ExactInterval::none();
  const Extended lo = std::max(lo_bound(a), lo_bound(b)), hi = std::min(hi_bound(a), hi_bound(b));
  return hi < lo ? ExactInterval::none() : interval_of(lo, hi);
}

}  // namespace mm

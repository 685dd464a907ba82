#include "evaluate/dual.hpp"

#include <limits>

namespace mm {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

Interval two_pi() { return mul(Interval::point(2), pi_interval()); }

/// Chain rule; a still argument stays still whatever the outer slope, also where that is unbounded.
Dual chain(Interval value, Interval outer, const Dual& inner, Interval middle) {
  if (inner.is_still()) return Dual{value};
  return {value, outer.is_empty() ? Interval::entire() : mul(outer, inner.slope), middle};
}

void lower_to(Domain* domain, Domain to) {
  if (domain != nullptr && *domain < to) *domain = to;
}

/// A function that was not defined on the whole box has no slope to speak of.
Dual guarded(Dual result, const Dual& argument, Domain mine, Domain* domain) {
  if (mine != Domain::whole) {
    lower_to(domain, mine);
    if (!argument.is_still()) result.slope = Interval::entire();
    result.middle = result.value;
  }
  return result;
}

Dual stepped(Interval value, const Dual& a, Interval middle) {
  return chain(value, value.is_point() ? Interval::point(0) : Interval::of(0, infinity), a, middle);
}

Interval positive_part(Interval a) { return intersect(a, Interval::of(0, infinity)); }

}  // namespace

Dual add(const Dual& a, const Dual& b) {
  return {add(a.value, b.value), add(a.slope, b.slope), add(a.middle, b.middle)};
}

Dual sub(const Dual& a, const Dual& b) {
  return {sub(a.value, b.value), sub(a.slope, b.slope), sub(a.middle, b.middle)};
}

Dual neg(const Dual& a) { return {neg(a.value), neg(a.slope), neg(a.middle)}; }

Dual mul(const Dual& a, const Dual& b) {
  return {mul(a.value, b.value), add(mul(a.slope, b.value), mul(b.slope, a.value)), mul(a.middle, b.middle)};
}

Dual div(const Dual& a, const Dual& b, Domain* domain) {
  Domain mine = Domain::whole;
  const Interval value = div(a.value, b.value, &mine);
  lower_to(domain, mine);
  if (a.is_still() && b.is_still()) return Dual{value};
  if (mine != Domain::whole) return {value, Interval::entire(), value};
  return {value, div(sub(a.slope, mul(value, b.slope)), b.value), div(a.middle, b.middle)};
}

Dual abs(const Dual& a) {
  const Interval outer = a.value.lo() >= 0 ? Interval::point(1)
                         : a.value.hi <= 0 ? Interval::point(-1)
                                           : Interval::of(-1, 1);
  return chain(abs(a.value), outer, a, abs(a.middle));
}

Dual min(const Dual& a, const Dual& b) {
  if (a.value.hi <= b.value.lo()) return a;
  if (b.value.hi <= a.value.lo()) return b;
  return {min(a.value, b.value), hull(a.slope, b.slope), min(a.middle, b.middle)};
}

Dual max(const Dual& a, const Dual& b) { return neg(min(neg(a), neg(b))); }

Dual sqrt(const Dual& a, Domain* domain) {
  Domain mine = Domain::whole;
  const Interval value = sqrt(a.value, &mine);
  const Interval twice = mul(Interval::point(2), value);
  const Interval outer = twice.is_empty() || twice.hi <= 0 ? Interval::of(0, infinity)
                                                           : positive_part(div(Interval::point(1), twice));
  return guarded(chain(value, outer, a, sqrt(a.middle)), a, mine, domain);
}

Dual pown(const Dual& a, int n, Domain* domain) {
  Domain mine = Domain::whole;
  const Interval value = pown(a.value, n, &mine);
  if (n == 0) return guarded(Dual{value}, a, mine, domain);
  const Interval outer = mul(Interval::point(n), pown(a.value, n - 1, nullptr));
  return guarded(chain(value, outer, a, pown(a.middle, n)), a, mine, domain);
}

Dual pow(const Dual& a, const Dual& b, Domain* domain) {
  Domain mine = Domain::whole;
  const Interval value = pow(a.value, b.value, &mine);
  lower_to(domain, mine);
  if (a.is_still() && b.is_still()) return Dual{value};
  if (mine != Domain::whole || a.value.lo() <= 0) return {value, Interval::entire(), value};
  const Interval by_base = mul(b.value, pow(a.value, sub(b.value, Interval::point(1)), nullptr));
  const Interval by_exponent = mul(log(a.value), value);
  return {value, add(mul(by_base, a.slope), mul(by_exponent, b.slope)), pow(a.middle, b.middle)};
}

Dual exp(const Dual& a) {
  const Interval value = exp(a.value);
  return chain(value, value, a, exp(a.middle));
}

Dual log(const Dual& a, Domain* domain) {
  Domain mine = Domain::whole;
  const Interval value = log(a.value, &mine);
  const Interval argument = positive_part(a.value);
  const Interval outer =
      argument.is_empty() ? Interval::entire() : positive_part(div(Interval::point(1), argument));
  return guarded(chain(value, outer, a, log(a.middle)), a, mine, domain);
}

Dual floor(const Dual& a) { return stepped(floor(a.value), a, floor(a.middle)); }
Dual ceil(const Dual& a) { return stepped(ceil(a.value), a, ceil(a.middle)); }
Dual round_half_away(const Dual& a) {
  return stepped(round_half_away(a.value), a, round_half_away(a.middle));
}

Dual hull(const Dual& a, const Dual& b) {
  return {hull(a.value, b.value), hull(a.slope, b.slope), hull(a.middle, b.middle)};
}

Dual sin_turns(const Dual& a) {
  return chain(sin_turns(a.value), mul(two_pi(), cos_turns(a.value)), a, sin_turns(a.middle));
}

Dual cos_turns(const Dual& a) {
  return chain(cos_turns(a.value), neg(mul(two_pi(), sin_turns(a.value))), a, cos_turns(a.middle));
}

Dual tan_turns(const Dual& a, Domain* domain) {
  Domain mine = Domain::whole;
  const Interval value = tan_turns(a.value, &mine);
  const Interval outer = mul(two_pi(), add(Interval::point(1), sqr(value)));
  return guarded(chain(value, outer, a, tan_turns(a.middle, nullptr)), a, mine, domain);
}

Dual asin_turns(const Dual& a, Domain* domain) {
  Domain mine = Domain::whole;
  const Interval value = asin_turns(a.value, &mine);
  const Interval root = sqrt(sub(Interval::point(1), sqr(a.value)));
  const Interval scaled = mul(two_pi(), root);
  const Interval outer = scaled.is_empty() || scaled.hi <= 0 ? Interval::of(0, infinity)
                                                             : positive_part(div(Interval::point(1), scaled));
  return guarded(chain(value, outer, a, asin_turns(a.middle, nullptr)), a, mine, domain);
}

Dual acos_turns(const Dual& a, Domain* domain) {
  Domain mine = Domain::whole;
  const Interval value = acos_turns(a.value, &mine);
  const Dual sine = asin_turns(a, nullptr);
  return guarded({value, neg(sine.slope), acos_turns(a.middle, nullptr)}, a, mine, domain);
}

Dual atan_turns(const Dual& a) {
  const Interval below = mul(two_pi(), add(Interval::point(1), sqr(a.value)));
  return chain(atan_turns(a.value), div(Interval::point(1), below), a, atan_turns(a.middle));
}

}  // namespace mm

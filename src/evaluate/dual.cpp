#include "evaluate/dual.hpp"

#include <limits>

namespace mm {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

template <class Base>
Base between(double lo, double hi) {
  return number_between(static_cast<const Base*>(nullptr), lo, hi);
}

template <class Base>
Base constant(double x) {
  return between<Base>(x, x);
}

template <class Base>
Base two_pi() {
  return mul(constant<Base>(2), pi_of(static_cast<const Base*>(nullptr)));
}

/// Chain rule; a still argument stays still whatever the outer slope, also where that is unbounded.
template <class Base>
DualOf<Base> chain(const Base& value, const Base& outer, const DualOf<Base>& inner, const Base& middle) {
  if (inner.is_still()) return DualOf<Base>{value};
  return {value, number_empty(outer) ? DualOf<Base>::entire() : mul(outer, inner.slope), middle};
}

void lower_to(Domain* domain, Domain to) {
  if (domain != nullptr && *domain < to) *domain = to;
}

/// A function that was not defined on the whole box has no slope to speak of.
template <class Base>
DualOf<Base> guarded(DualOf<Base> result, const DualOf<Base>& argument, Domain mine, Domain* domain) {
  if (mine != Domain::whole) {
    lower_to(domain, mine);
    if (!argument.is_still()) result.slope = DualOf<Base>::entire();
    result.middle = result.value;
  }
  return result;
}

template <class Base>
DualOf<Base> stepped(const Base& value, const DualOf<Base>& a, const Base& middle) {
  return chain(value, is_point(value) ? constant<Base>(0) : between<Base>(0, infinity), a, middle);
}

template <class Base>
Base positive_part(const Base& a) {
  return intersect(a, between<Base>(0, infinity));
}

}  // namespace

template <class Base>
DualOf<Base> add(const DualOf<Base>& a, const DualOf<Base>& b) {
  return {add(a.value, b.value), add(a.slope, b.slope), add(a.middle, b.middle)};
}

template <class Base>
DualOf<Base> sub(const DualOf<Base>& a, const DualOf<Base>& b) {
  return {sub(a.value, b.value), sub(a.slope, b.slope), sub(a.middle, b.middle)};
}

template <class Base>
DualOf<Base> neg(const DualOf<Base>& a) {
  return {neg(a.value), neg(a.slope), neg(a.middle)};
}

template <class Base>
DualOf<Base> kept_by(Guarded guards, const DualOf<Base>& a) {
  const bool cut = ((guards & never_negative) != 0 && may_be_negative(a.value)) ||
                   ((guards & never_positive) != 0 && may_be_positive(a.value));
  if (!cut) return a;
  const Base kept = kept_by(guards, a.value);
  return a.is_still() ? DualOf<Base>{kept} : DualOf<Base>{kept, DualOf<Base>::entire(), kept};
}

template <class Base>
DualOf<Base> mul(const DualOf<Base>& a, const DualOf<Base>& b) {
  return {mul(a.value, b.value), add(mul(a.slope, b.value), mul(b.slope, a.value)), mul(a.middle, b.middle)};
}

template <class Base>
DualOf<Base> div(const DualOf<Base>& a, const DualOf<Base>& b, Domain* domain) {
  Domain mine = Domain::whole;
  const Base value = div(a.value, b.value, &mine);
  lower_to(domain, mine);
  if (a.is_still() && b.is_still()) return DualOf<Base>{value};
  if (mine != Domain::whole) return {value, DualOf<Base>::entire(), value};
  return {value, div(sub(a.slope, mul(value, b.slope)), b.value), div(a.middle, b.middle)};
}

template <class Base>
DualOf<Base> abs(const DualOf<Base>& a) {
  const Base outer = !may_be_negative(a.value)   ? constant<Base>(1)
                     : !may_be_positive(a.value) ? constant<Base>(-1)
                                                 : between<Base>(-1, 1);
  return chain(abs(a.value), outer, a, abs(a.middle));
}

template <class Base>
DualOf<Base> min(const DualOf<Base>& a, const DualOf<Base>& b) {
  if (less_equal_bits(a.value, b.value) == surely_yes) return a;
  if (less_equal_bits(b.value, a.value) == surely_yes) return b;
  return {min(a.value, b.value), hull(a.slope, b.slope), min(a.middle, b.middle)};
}

template <class Base>
DualOf<Base> max(const DualOf<Base>& a, const DualOf<Base>& b) {
  return neg(min(neg(a), neg(b)));
}

template <class Base>
DualOf<Base> sqrt(const DualOf<Base>& a, Domain* domain) {
  Domain mine = Domain::whole;
  const Base value = sqrt(a.value, &mine);
  const Base twice = mul(constant<Base>(2), value);
  const Base outer = number_empty(twice) || !may_be_positive(twice)
                         ? between<Base>(0, infinity)
                         : positive_part(div(constant<Base>(1), twice));
  return guarded(chain(value, outer, a, sqrt(a.middle)), a, mine, domain);
}

template <class Base>
DualOf<Base> pown(const DualOf<Base>& a, int n, Domain* domain) {
  Domain mine = Domain::whole;
  const Base value = pown(a.value, n, &mine);
  if (n == 0) return guarded(DualOf<Base>{value}, a, mine, domain);
  const Base outer = mul(constant<Base>(n), pown(a.value, n - 1, nullptr));
  return guarded(chain(value, outer, a, pown(a.middle, n)), a, mine, domain);
}

template <class Base>
DualOf<Base> pow(const DualOf<Base>& a, const DualOf<Base>& b, Domain* domain) {
  Domain mine = Domain::whole;
  const Base value = pow(a.value, b.value, &mine);
  lower_to(domain, mine);
  if (a.is_still() && b.is_still()) return DualOf<Base>{value};
  if (mine != Domain::whole || less_bits(constant<Base>(0), a.value) != surely_yes)
    return {value, DualOf<Base>::entire(), value};
  const Base by_base = mul(b.value, pow(a.value, sub(b.value, constant<Base>(1)), nullptr));
  const Base by_exponent = mul(log(a.value), value);
  return {value, add(mul(by_base, a.slope), mul(by_exponent, b.slope)), pow(a.middle, b.middle)};
}

template <class Base>
DualOf<Base> exp(const DualOf<Base>& a) {
  const Base value = exp(a.value);
  return chain(value, value, a, exp(a.middle));
}

template <class Base>
DualOf<Base> log(const DualOf<Base>& a, Domain* domain) {
  Domain mine = Domain::whole;
  const Base value = log(a.value, &mine);
  const Base argument = positive_part(a.value);
  const Base outer =
      number_empty(argument) ? DualOf<Base>::entire() : positive_part(div(constant<Base>(1), argument));
  return guarded(chain(value, outer, a, log(a.middle)), a, mine, domain);
}

template <class Base>
DualOf<Base> floor(const DualOf<Base>& a) {
  return stepped(floor(a.value), a, floor(a.middle));
}
template <class Base>
DualOf<Base> ceil(const DualOf<Base>& a) {
  return stepped(ceil(a.value), a, ceil(a.middle));
}
template <class Base>
DualOf<Base> round_half_away(const DualOf<Base>& a) {
  return stepped(round_half_away(a.value), a, round_half_away(a.middle));
}

template <class Base>
DualOf<Base> hull(const DualOf<Base>& a, const DualOf<Base>& b) {
  return {hull(a.value, b.value), hull(a.slope, b.slope), hull(a.middle, b.middle)};
}

template <class Base>
DualOf<Base> sin_turns(const DualOf<Base>& a) {
  return chain(sin_turns(a.value), mul(two_pi<Base>(), cos_turns(a.value)), a, sin_turns(a.middle));
}

template <class Base>
DualOf<Base> cos_turns(const DualOf<Base>& a) {
  return chain(cos_turns(a.value), neg(mul(two_pi<Base>(), sin_turns(a.value))), a, cos_turns(a.middle));
}

template <class Base>
DualOf<Base> tan_turns(const DualOf<Base>& a, Domain* domain) {
  Domain mine = Domain::whole;
  const Base value = tan_turns(a.value, &mine);
  const Base outer = mul(two_pi<Base>(), add(constant<Base>(1), pown(value, 2)));
  return guarded(chain(value, outer, a, tan_turns(a.middle, nullptr)), a, mine, domain);
}

template <class Base>
DualOf<Base> asin_turns(const DualOf<Base>& a, Domain* domain) {
  Domain mine = Domain::whole;
  const Base value = asin_turns(a.value, &mine);
  const Base root = sqrt(sub(constant<Base>(1), pown(a.value, 2)));
  const Base scaled = mul(two_pi<Base>(), root);
  const Base outer = number_empty(scaled) || !may_be_positive(scaled)
                         ? between<Base>(0, infinity)
                         : positive_part(div(constant<Base>(1), scaled));
  return guarded(chain(value, outer, a, asin_turns(a.middle, nullptr)), a, mine, domain);
}

template <class Base>
DualOf<Base> acos_turns(const DualOf<Base>& a, Domain* domain) {
  Domain mine = Domain::whole;
  const Base value = acos_turns(a.value, &mine);
  const DualOf<Base> sine = asin_turns(a, nullptr);
  return guarded({value, neg(sine.slope), acos_turns(a.middle, nullptr)}, a, mine, domain);
}

template <class Base>
DualOf<Base> atan_turns(const DualOf<Base>& a) {
  const Base below = mul(two_pi<Base>(), add(constant<Base>(1), pown(a.value, 2)));
  return chain(atan_turns(a.value), div(constant<Base>(1), below), a, atan_turns(a.middle));
}

template DualOf<Interval> add(const DualOf<Interval>&, const DualOf<Interval>&);
template DualOf<Interval> sub(const DualOf<Interval>&, const DualOf<Interval>&);
template DualOf<Interval> mul(const DualOf<Interval>&, const DualOf<Interval>&);
template DualOf<Interval> min(const DualOf<Interval>&, const DualOf<Interval>&);
template DualOf<Interval> max(const DualOf<Interval>&, const DualOf<Interval>&);
template DualOf<Interval> hull(const DualOf<Interval>&, const DualOf<Interval>&);
template DualOf<Interval> div(const DualOf<Interval>&, const DualOf<Interval>&, Domain*);
template DualOf<Interval> pow(const DualOf<Interval>&, const DualOf<Interval>&, Domain*);
template DualOf<Interval> neg(const DualOf<Interval>&);
template DualOf<Interval> kept_by(Guarded, const DualOf<Interval>&);
template DualOf<Interval> abs(const DualOf<Interval>&);
template DualOf<Interval> exp(const DualOf<Interval>&);
template DualOf<Interval> floor(const DualOf<Interval>&);
template DualOf<Interval> ceil(const DualOf<Interval>&);
template DualOf<Interval> round_half_away(const DualOf<Interval>&);
template DualOf<Interval> sin_turns(const DualOf<Interval>&);
template DualOf<Interval> cos_turns(const DualOf<Interval>&);
template DualOf<Interval> atan_turns(const DualOf<Interval>&);
template DualOf<Interval> sqrt(const DualOf<Interval>&, Domain*);
template DualOf<Interval> log(const DualOf<Interval>&, Domain*);
template DualOf<Interval> tan_turns(const DualOf<Interval>&, Domain*);
template DualOf<Interval> asin_turns(const DualOf<Interval>&, Domain*);
template DualOf<Interval> acos_turns(const DualOf<Interval>&, Domain*);
template DualOf<Interval> pown(const DualOf<Interval>&, int, Domain*);

template DualOf<ExactInterval> add(const DualOf<ExactInterval>&, const DualOf<ExactInterval>&);
template DualOf<ExactInterval> sub(const DualOf<ExactInterval>&, const DualOf<ExactInterval>&);
template DualOf<ExactInterval> mul(const DualOf<ExactInterval>&, const DualOf<ExactInterval>&);
template DualOf<ExactInterval> min(const DualOf<ExactInterval>&, const DualOf<ExactInterval>&);
template DualOf<ExactInterval> max(const DualOf<ExactInterval>&, const DualOf<ExactInterval>&);
template DualOf<ExactInterval> hull(const DualOf<ExactInterval>&, const DualOf<ExactInterval>&);
template DualOf<ExactInterval> div(const DualOf<ExactInterval>&, const DualOf<ExactInterval>&, Domain*);
template DualOf<ExactInterval> pow(const DualOf<ExactInterval>&, const DualOf<ExactInterval>&, Domain*);
template DualOf<ExactInterval> neg(const DualOf<ExactInterval>&);
template DualOf<ExactInterval> kept_by(Guarded, const DualOf<ExactInterval>&);
template DualOf<ExactInterval> abs(const DualOf<ExactInterval>&);
template DualOf<ExactInterval> exp(const DualOf<ExactInterval>&);
template DualOf<ExactInterval> floor(const DualOf<ExactInterval>&);
template DualOf<ExactInterval> ceil(const DualOf<ExactInterval>&);
template DualOf<ExactInterval> round_half_away(const DualOf<ExactInterval>&);
template DualOf<ExactInterval> sin_turns(const DualOf<ExactInterval>&);
template DualOf<ExactInterval> cos_turns(const DualOf<ExactInterval>&);
template DualOf<ExactInterval> atan_turns(const DualOf<ExactInterval>&);
template DualOf<ExactInterval> sqrt(const DualOf<ExactInterval>&, Domain*);
template DualOf<ExactInterval> log(const DualOf<ExactInterval>&, Domain*);
template DualOf<ExactInterval> tan_turns(const DualOf<ExactInterval>&, Domain*);
template DualOf<ExactInterval> asin_turns(const DualOf<ExactInterval>&, Domain*);
template DualOf<ExactInterval> acos_turns(const DualOf<ExactInterval>&, Domain*);
template DualOf<ExactInterval> pown(const DualOf<ExactInterval>&, int, Domain*);

}  // namespace mm

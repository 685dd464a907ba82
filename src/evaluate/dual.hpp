// A number together with its slope in one active variable, over a box: forward differentiation with
// intervals. slope encloses every (f(x1) - f(x2)) / (x1 - x2) in the box, so it also serves where f has
// corners and steps: a step up has the slope [0, inf]. A slope of one sign therefore proves that f is
// monotone over the box.
#pragma once
#include <utility>

#include "evaluate/numeric.hpp"

namespace mm {

template <class Base>
struct DualOf {
  Base value;
  Base slope;
  Base middle;  // value with the active variable at the middle of its range

  static Base constant(double x) { return number_between(static_cast<const Base*>(nullptr), x, x); }
  static Base entire() { return number_entire(static_cast<const Base*>(nullptr)); }

  DualOf() : slope(constant(0)) {}
  /// A number that does not depend on the active variable.
  explicit DualOf(Base same) : value(same), slope(constant(0)), middle(same) {}
  DualOf(Base all, Base steepness, Base at_middle)
      : value(std::move(all)), slope(std::move(steepness)), middle(std::move(at_middle)) {}
  /// The active variable itself.
  static DualOf variable(const Base& range) { return {range, constant(1), middle_of(range)}; }

  bool is_still() const { return !may_be_positive(slope) && !may_be_negative(slope); }
};

using Dual = DualOf<Interval>;
using ExactDual = DualOf<ExactInterval>;

template <class Base>
DualOf<Base> number_entire(const DualOf<Base>*) {
  return {DualOf<Base>::entire(), DualOf<Base>::entire(), DualOf<Base>::entire()};
}
template <class Base>
DualOf<Base> number_integer(const DualOf<Base>*, double lo, double hi) {
  return DualOf<Base>{number_between(static_cast<const Base*>(nullptr), lo, hi)};
}
template <class Base>
bool number_empty(const DualOf<Base>& a) {
  return number_empty(a.value);
}
template <class Base>
Interval bounds(const DualOf<Base>& a) {
  return bounds(a.value);
}

template <class Base>
DualOf<Base> add(const DualOf<Base>& a, const DualOf<Base>& b);
template <class Base>
DualOf<Base> sub(const DualOf<Base>& a, const DualOf<Base>& b);
template <class Base>
DualOf<Base> mul(const DualOf<Base>& a, const DualOf<Base>& b);
template <class Base>
DualOf<Base> min(const DualOf<Base>& a, const DualOf<Base>& b);
template <class Base>
DualOf<Base> max(const DualOf<Base>& a, const DualOf<Base>& b);
template <class Base>
DualOf<Base> hull(const DualOf<Base>& a, const DualOf<Base>& b);
template <class Base>
DualOf<Base> div(const DualOf<Base>& a, const DualOf<Base>& b, Domain* domain);
template <class Base>
DualOf<Base> pow(const DualOf<Base>& a, const DualOf<Base>& b, Domain* domain);
template <class Base>
DualOf<Base> neg(const DualOf<Base>& a);
/// Has no slope to speak of where the guards cut something off.
template <class Base>
DualOf<Base> kept_by(Guarded guards, const DualOf<Base>& a);
template <class Base>
DualOf<Base> abs(const DualOf<Base>& a);
template <class Base>
DualOf<Base> exp(const DualOf<Base>& a);
template <class Base>
DualOf<Base> floor(const DualOf<Base>& a);
template <class Base>
DualOf<Base> ceil(const DualOf<Base>& a);
template <class Base>
DualOf<Base> round_half_away(const DualOf<Base>& a);
template <class Base>
DualOf<Base> sin_turns(const DualOf<Base>& a);
template <class Base>
DualOf<Base> cos_turns(const DualOf<Base>& a);
template <class Base>
DualOf<Base> atan_turns(const DualOf<Base>& a);
template <class Base>
DualOf<Base> sqrt(const DualOf<Base>& a, Domain* domain);
template <class Base>
DualOf<Base> log(const DualOf<Base>& a, Domain* domain);
template <class Base>
DualOf<Base> tan_turns(const DualOf<Base>& a, Domain* domain);
template <class Base>
DualOf<Base> asin_turns(const DualOf<Base>& a, Domain* domain);
template <class Base>
DualOf<Base> acos_turns(const DualOf<Base>& a, Domain* domain);
template <class Base>
DualOf<Base> pown(const DualOf<Base>& a, int n, Domain* domain);

template <class Base>
Bits less_bits(const DualOf<Base>& a, const DualOf<Base>& b) {
  return less_bits(a.value, b.value);
}

template <class Base>
Bits less_equal_bits(const DualOf<Base>& a, const DualOf<Base>& b) {
  return less_equal_bits(a.value, b.value);
}

template <class Base>
Bits equal_bits(const DualOf<Base>& a, const DualOf<Base>& b) {
  return equal_bits(a.value, b.value);
}

}  // namespace mm

// A number together with its slope in one active variable, over a box: forward differentiation with
// intervals. slope encloses every (f(x1) - f(x2)) / (x1 - x2) in the box, so it also serves where f has
// corners and steps: a step up has the slope [0, inf]. A slope of one sign therefore proves that f is
// monotone over the box.
#pragma once
#include "evaluate/numeric.hpp"

namespace mm {

struct Dual {
  Interval value;
  Interval slope;
  Interval middle;  // value with the active variable at the middle of its range

  Dual() : slope(Interval::point(0)) {}
  /// A number that does not depend on the active variable.
  explicit Dual(Interval constant) : value(constant), slope(Interval::point(0)), middle(constant) {}
  Dual(Interval all, Interval steepness, Interval at_middle)
      : value(all), slope(steepness), middle(at_middle) {}
  /// The active variable itself.
  static Dual variable(Interval range) {
    return {range, Interval::point(1), Interval::point(midpoint(range))};
  }

  bool is_still() const { return slope.lo() == 0 && slope.hi == 0; }
};

inline Dual number_entire(const Dual*) {
  return {Interval::entire(), Interval::entire(), Interval::entire()};
}
inline Dual number_integer(const Dual*, double lo, double hi) { return Dual{Interval::of(lo, hi)}; }
inline bool number_empty(const Dual& a) { return a.value.is_empty(); }
inline Interval bounds(const Dual& a) { return a.value; }

Dual add(const Dual& a, const Dual& b);
Dual sub(const Dual& a, const Dual& b);
Dual mul(const Dual& a, const Dual& b);
Dual div(const Dual& a, const Dual& b, Domain* domain);
Dual neg(const Dual& a);
Dual abs(const Dual& a);
Dual min(const Dual& a, const Dual& b);
Dual max(const Dual& a, const Dual& b);
Dual sqrt(const Dual& a, Domain* domain);
Dual pown(const Dual& a, int n, Domain* domain);
Dual pow(const Dual& a, const Dual& b, Domain* domain);
Dual exp(const Dual& a);
Dual log(const Dual& a, Domain* domain);
Dual floor(const Dual& a);
Dual ceil(const Dual& a);
Dual round_half_away(const Dual& a);
Dual hull(const Dual& a, const Dual& b);
Dual sin_turns(const Dual& a);
Dual cos_turns(const Dual& a);
Dual tan_turns(const Dual& a, Domain* domain);
Dual asin_turns(const Dual& a, Domain* domain);
Dual acos_turns(const Dual& a, Domain* domain);
Dual atan_turns(const Dual& a);

inline Bits less_bits(const Dual& a, const Dual& b) { return less_bits(a.value, b.value); }
inline Bits less_equal_bits(const Dual& a, const Dual& b) { return less_equal_bits(a.value, b.value); }
inline Bits equal_bits(const Dual& a, const Dual& b) { return equal_bits(a.value, b.value); }

}  // namespace mm

// Closed real intervals with outward-rounded bounds (IEEE 1788 set-based, undecorated; a separate
// flag says whether an operation was defined on the whole box).
//
// The bounds are kept as (-lo, hi) so that both are rounded correctly by the one rounding mode
// "upward": hold a RoundUp guard for as long as interval arithmetic runs. Results are the tightest
// binary64 bounds.
#pragma once
#include <limits>

namespace mm {

/// Sets the rounding mode upward for its lifetime and restores the former one. Hold it around a whole
/// computation, not around single operations: a compiler may move arithmetic over its ends.
class RoundUp {
 public:
  RoundUp();
  ~RoundUp();
  RoundUp(const RoundUp&) = delete;
  RoundUp& operator=(const RoundUp&) = delete;

 private:
  int former_;
};

/// [lo, hi] with lo <= hi, lo < inf, hi > -inf; or empty, which is {-inf, -inf}, or holds a NaN where add,
/// sub or mul were given an empty operand.
struct Interval {
  double neg_lo = -std::numeric_limits<double>::infinity();  // default: empty
  double hi = -std::numeric_limits<double>::infinity();

  static constexpr Interval of(double lo, double hi) { return {-lo, hi}; }
  static constexpr Interval point(double x) { return {-x, x}; }
  static constexpr Interval entire() {
    return {std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()};
  }
  static constexpr Interval empty() { return {}; }

  constexpr double lo() const { return -neg_lo; }
  constexpr bool is_empty() const { return !(-neg_lo <= hi); }
  constexpr bool is_point() const { return -neg_lo == hi; }
  constexpr bool contains(double x) const { return -neg_lo <= x && x <= hi; }
  constexpr bool operator==(const Interval& other) const {
    if (is_empty() || other.is_empty()) return is_empty() && other.is_empty();
    return neg_lo == other.neg_lo && hi == other.hi;
  }
};

/// How much of the box an operation was defined on.
enum class Domain : unsigned char { whole, part, none };

inline Interval add(const Interval& a, const Interval& b);
inline Interval sub(const Interval& a, const Interval& b);
inline Interval mul(const Interval& a, const Interval& b);
inline Interval neg(Interval a) { return {a.hi, a.neg_lo}; }
/// Quotient over b without zero; `*domain` (if given) is lowered to part/none where b holds zero.
inline Interval div(const Interval& a, const Interval& b, Domain* domain = nullptr);
Interval abs(Interval a);
Interval min(Interval a, Interval b);
Interval max(Interval a, Interval b);
Interval sqr(Interval a);
Interval sqrt(Interval a, Domain* domain = nullptr);
Interval pown(Interval a, int n, Domain* domain = nullptr);
/// Defined for a > 0, and for a = 0 where b > 0 (IEEE 1788 table 9.1).
Interval pow(Interval a, Interval b, Domain* domain = nullptr);
Interval exp(Interval a);
Interval log(Interval a, Domain* domain = nullptr);
Interval sin(Interval radians);
Interval cos(Interval radians);
Interval tan(Interval radians, Domain* domain = nullptr);
Interval asin(Interval a, Domain* domain = nullptr);
Interval acos(Interval a, Domain* domain = nullptr);
Interval atan(Interval a);
Interval floor(Interval a);
Interval ceil(Interval a);
/// To the nearest integer, halves away from zero.
Interval round_half_away(Interval a);
Interval pi_interval();

Interval hull(Interval a, Interval b);
Interval intersect(Interval a, Interval b);
/// The middle, rounded to nearest: a point inside, finite also for unbounded intervals. NaN for empty.
double midpoint(Interval a);
double width(Interval a);  // rounded up; NaN for empty
/// The greatest distance from zero (`mag` of IEEE 1788); NaN for empty.
double magnitude(Interval a);

}  // namespace mm

#include "interval/arithmetic.hpp"  // the inline bodies

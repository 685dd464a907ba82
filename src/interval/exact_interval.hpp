// Intervals with exact rational bounds: the second opinion for verdicts that touch a limit exactly
// (4.5 in against 114.3 mm), where outward rounding alone would leave "unknown".
#pragma once
#include "base/rational.hpp"
#include "interval/interval.hpp"

namespace mm {

/// Bounds are exact for + - * / abs min max floor ceil round and whole powers; sqrt is exact on perfect
/// squares; other functions are enclosed to 2^-100 relative or better. A bound whose numerator or denominator
/// passes 4096 bits is rounded outward to 256 bits, so that cost stays bounded; such a bound, and one of
/// an irrational function, beyond 2^3800 becomes infinite outward or 2^3800 inward, and nearer to zero than
/// 2^-3800 likewise. Independent of the rounding mode.
struct ExactInterval {
  Rational lo_value, hi_value;  // meaningful when the matching flag is false
  bool lo_infinite = false, hi_infinite = false;
  bool empty = false;

  static ExactInterval point(Rational x);
  static ExactInterval of(Rational lo, Rational hi);
  static ExactInterval entire();
  static ExactInterval none();
  static ExactInterval from(Interval a);
  bool is_point() const;
  bool contains(const Rational& x) const;
};

/// Outward-rounded double bounds of an exact interval.
Interval to_interval(const ExactInterval& a);

ExactInterval add(const ExactInterval& a, const ExactInterval& b);
ExactInterval sub(const ExactInterval& a, const ExactInterval& b);
ExactInterval mul(const ExactInterval& a, const ExactInterval& b);
ExactInterval div(const ExactInterval& a, const ExactInterval& b, Domain* domain = nullptr);
ExactInterval neg(const ExactInterval& a);
ExactInterval abs(const ExactInterval& a);
ExactInterval min(const ExactInterval& a, const ExactInterval& b);
ExactInterval max(const ExactInterval& a, const ExactInterval& b);
ExactInterval sqrt(const ExactInterval& a, Domain* domain = nullptr);
ExactInterval pown(const ExactInterval& a, int n, Domain* domain = nullptr);
ExactInterval pow(const ExactInterval& a, const ExactInterval& b, Domain* domain = nullptr);
ExactInterval exp(const ExactInterval& a);
ExactInterval log(const ExactInterval& a, Domain* domain = nullptr);
ExactInterval sin(const ExactInterval& radians);
ExactInterval cos(const ExactInterval& radians);
ExactInterval tan(const ExactInterval& radians, Domain* domain = nullptr);
ExactInterval asin(const ExactInterval& a, Domain* domain = nullptr);
ExactInterval acos(const ExactInterval& a, Domain* domain = nullptr);
ExactInterval atan(const ExactInterval& a);
ExactInterval floor(const ExactInterval& a);
ExactInterval ceil(const ExactInterval& a);
ExactInterval round_half_away(const ExactInterval& a);
ExactInterval pi_exact();
/// pi to a whole power.
ExactInterval pi_exact(int power);
ExactInterval hull(const ExactInterval& a, const ExactInterval& b);
ExactInterval intersect(const ExactInterval& a, const ExactInterval& b);

}  // namespace mm

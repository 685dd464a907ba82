// A bound of an exact interval: a rational or an infinity. Private to the exact arithmetic.
#pragma once
#include <mpfr.h>

#include "interval/exact_interval.hpp"

namespace mm {

struct Extended {
  Rational value = 0;
  int infinite = 0;  // -1, 0, 1

  static Extended infinity(int sign) { return {0, sign}; }
  int sign() const { return infinite != 0 ? infinite : value.sign(); }
};

enum class Outward { down, up };

int compare(const Extended& a, const Extended& b);
inline bool operator<(const Extended& a, const Extended& b) { return compare(a, b) < 0; }
/// An infinity times zero is zero, as bounds want it.
Extended times(const Extended& a, const Extended& b);
/// May be kept as it is.
bool is_small(const Rational& value);
/// Keeps a bound as it is while it is small; else rounds it outward to 256 bits, and beyond 2^3800 (or
/// nearer to zero than 2^-3800) to that limit, zero or an infinity.
Extended limited(Extended bound, Outward side);
/// The same rounding for a result of MPFR.
Extended limited(mpfr_srcptr bound, Outward side);

inline Extended lo_bound(const ExactInterval& a) {
  return a.lo_infinite ? Extended::infinity(-1) : Extended{a.lo_value, 0};
}
inline Extended hi_bound(const ExactInterval& a) {
  return a.hi_infinite ? Extended::infinity(1) : Extended{a.hi_value, 0};
}
/// From bounds that need no rounding, and with rounding.
ExactInterval interval_of(const Extended& lo, const Extended& hi);
ExactInterval limited_interval(const Extended& lo, const Extended& hi);
inline bool holds_zero(const ExactInterval& a) {
  return !a.empty && lo_bound(a).sign() <= 0 && hi_bound(a).sign() >= 0;
}

}  // namespace mm

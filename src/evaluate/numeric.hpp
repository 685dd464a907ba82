// The operations that a machine needs of a number, for double intervals and for exact ones.
// Angles are in turns here: sin of a turn-angle, and asin that gives turns.
#pragma once
#include <algorithm>
#include <cmath>
#include <limits>

#include "evaluate/bits.hpp"
#include "interval/exact_interval.hpp"
#include "interval/interval.hpp"
#include "model/program.hpp"

namespace mm {

inline Interval number_entire(const Interval*) { return Interval::entire(); }
inline Interval number_integer(const Interval*, double lo, double hi) { return Interval::of(lo, hi); }
inline bool number_empty(Interval a) { return a.is_empty(); }
inline Interval bounds(Interval a) { return a; }

Interval sin_turns(Interval turns);
Interval cos_turns(Interval turns);
Interval tan_turns(Interval turns, Domain* domain);
Interval asin_turns(Interval a, Domain* domain);
Interval acos_turns(Interval a, Domain* domain);
Interval atan_turns(Interval a);

Bits less_bits(Interval a, Interval b);
Bits less_equal_bits(Interval a, Interval b);
Bits equal_bits(Interval a, Interval b);

/// Also true of an empty interval: nothing is known of it.
inline bool may_be_positive(Interval a) { return a.is_empty() || a.hi > 0; }
inline bool may_be_negative(Interval a) { return a.is_empty() || a.lo() < 0; }
inline bool is_point(Interval a) { return a.is_point(); }
inline Interval middle_of(Interval a) { return Interval::point(midpoint(a)); }
inline Interval pi_of(const Interval*) { return pi_interval(); }

/// An end that may well be zero but for the rounding of what is as large as `of`.
inline bool may_be_rounding(Interval a, double of) {
  constexpr double share = 1e-12;
  const auto tiny = [&](double end) { return end != 0 && std::abs(end) <= share * of; };
  return !a.is_empty() && std::isfinite(of) && (tiny(a.lo()) || tiny(a.hi));
}

inline bool may_be_positive(const ExactInterval& a) { return a.empty || a.hi_infinite || a.hi_value > 0; }
inline bool may_be_negative(const ExactInterval& a) { return a.empty || a.lo_infinite || a.lo_value < 0; }
inline bool is_point(const ExactInterval& a) { return a.is_point(); }
ExactInterval middle_of(const ExactInterval& a);
inline ExactInterval pi_of(const ExactInterval*) { return pi_exact(); }

inline ExactInterval number_entire(const ExactInterval*) { return ExactInterval::entire(); }
ExactInterval number_integer(const ExactInterval*, double lo, double hi);
inline Interval number_between(const Interval*, double lo, double hi) { return Interval::of(lo, hi); }
inline ExactInterval number_between(const ExactInterval* tag, double lo, double hi) {
  return number_integer(tag, lo, hi);
}
inline bool number_empty(const ExactInterval& a) { return a.empty; }
inline Interval bounds(const ExactInterval& a) { return to_interval(a); }

/// Exact at the twelfths of a turn where sine, cosine and tangent are rational.
ExactInterval sin_turns(const ExactInterval& turns);
ExactInterval cos_turns(const ExactInterval& turns);
ExactInterval tan_turns(const ExactInterval& turns, Domain* domain);
ExactInterval asin_turns(const ExactInterval& a, Domain* domain);
ExactInterval acos_turns(const ExactInterval& a, Domain* domain);
ExactInterval atan_turns(const ExactInterval& a);

Bits less_bits(const ExactInterval& a, const ExactInterval& b);
Bits less_equal_bits(const ExactInterval& a, const ExactInterval& b);
Bits equal_bits(const ExactInterval& a, const ExactInterval& b);

/// What is left of an operand where its guards hold.
template <class Num>
Num kept_by(Guarded guards, const Num& a) {
  const Num from_zero = number_between(&a, 0, std::numeric_limits<double>::infinity());
  const Num kept = (guards & never_negative) != 0 ? intersect(a, from_zero) : a;
  return (guards & never_positive) != 0 ? intersect(kept, neg(from_zero)) : kept;
}

/// a relation b of two exact numbers.
inline Bits truth_bits(bool value) { return value ? surely_yes : surely_no; }

}  // namespace mm

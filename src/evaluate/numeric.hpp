// The operations that a machine needs of a number, for double intervals and for exact ones.
// Angles are in turns here: sin of a turn-angle, and asin that gives turns.
#pragma once
#include "evaluate/bits.hpp"
#include "interval/exact_interval.hpp"
#include "interval/interval.hpp"

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

inline ExactInterval number_entire(const ExactInterval*) { return ExactInterval::entire(); }
ExactInterval number_integer(const ExactInterval*, double lo, double hi);
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

/// a relation b of two exact numbers.
inline Bits truth_bits(bool value) { return value ? surely_yes : surely_no; }

}  // namespace mm

// Reverse operations (IEEE 1788 section 10.5.4): the hull of all x in `x` for which op(x, b) can lie in c.
// For narrowing a variable through a formula from its result. Hold a RoundUp guard.
#pragma once
#include <utility>

#include "interval/interval.hpp"

namespace mm {

Interval sqr_rev(Interval c, Interval x);
Interval abs_rev(Interval c, Interval x);
Interval pown_rev(Interval c, Interval x, int n);
Interval sin_rev(Interval c, Interval x);
Interval cos_rev(Interval c, Interval x);
Interval tan_rev(Interval c, Interval x);
/// x with x * b in c.
Interval mul_rev(Interval b, Interval c, Interval x);
/// The two-part form: both pieces of {x : x*b in c}, second empty where there is one piece.
std::pair<Interval, Interval> mul_rev_pair(Interval b, Interval c);
/// x with x^b in c, and y with a^y in c (a >= 0).
Interval pow_rev1(Interval b, Interval c, Interval x);
Interval pow_rev2(Interval a, Interval c, Interval y);
/// cancel_minus: the tightest z with b + z covering a; entire where there is none.
Interval cancel_minus(Interval a, Interval b);
Interval cancel_plus(Interval a, Interval b);

}  // namespace mm

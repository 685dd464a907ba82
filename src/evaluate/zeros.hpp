// Where a function of one value may be nothing, as three of its points tell.
#pragma once
#include <vector>

#include "base/rational.hpp"

namespace mm {

struct Seen {
  Rational value, difference;
};

/// The rational zeros of the quotient of two linear functions, and of the square function, through three
/// points of different values: what is to be tried, and no more than that.
std::vector<Rational> zeros(const Seen (&seen)[3]);

}  // namespace mm

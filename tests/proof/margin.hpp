// The judge's margins: by how much a truth holds, worked out apart from the program's own. Of a <= b it is
// b - a, of a = b it is -|b - a|; the least of both for "and", the greatest for "or", the least of all for
// "every". Only comparisons of one dimension count by it; all else holds, or fails, by an endless margin.
#pragma once
#include "real.hpp"

namespace mm_proof {

struct Margin {
  bool some = false;       // it may be a number:
  Real number;             // which lies here
  bool holds = false;      // it may be endless
  bool fails = false;      // the same, with the other sign
  bool undefined = false;  // it may be undefined

  static Margin of(const Real& number);
  static Margin of(Truth truth);
};

Margin margin_not(Margin a);
Margin margin_and(const Margin& a, const Margin& b);
inline Margin margin_or(const Margin& a, const Margin& b) {
  return margin_not(margin_and(margin_not(a), margin_not(b)));
}

}  // namespace mm_proof

#include "evaluate/margin_pieces.hpp"

#include <algorithm>
#include <tuple>

namespace mm {

namespace {

/// The middle; of what has no end, ever further out.
Rational cut_point(const ExactInterval& range, bool integer) {
  if (!range.lo_infinite && !range.hi_infinite) {
    const Rational middle = (range.lo_value + range.hi_value) / 2;
    const double near = midpoint(to_interval(range));
    // a short number, where there is one between the two
    return !integer && range.contains(exact(near)) ? exact(near) : middle;
  }
  if (range.lo_infinite && range.hi_infinite) return Rational(0);
  return range.hi_infinite ? std::max(Rational(1), range.lo_value * 16)
                           : std::min(Rational(-1), range.hi_value * 16);
}

}  // namespace

bool halve(const Variable& variable, std::size_t v, SymbolHalves& halves, MarginPiece& first,
           MarginPiece& second) {
  if (!variable.number) {
    std::tie(first.symbols[v], second.symbols[v]) = halves.of(variable, *first.symbols[v]);
    return first.symbols[v] != nullptr;
  }
  const ExactInterval& range = first.numbers[v];
  Rational at = cut_point(range, variable.integer);
  if (!range.contains(at)) return false;
  Rational next = at;
  if (variable.integer) {
    at = Rational(floor(at));
    next = at + 1;
    if (!range.contains(at) || !range.contains(next)) return false;
  }
  ExactInterval& below = first.numbers[v];
  ExactInterval& above = second.numbers[v];
  const bool at_an_end =
      (!below.lo_infinite && below.lo_value == at) || (!above.hi_infinite && above.hi_value == at);
  if (at_an_end && !variable.integer) return false;
  below.hi_infinite = above.lo_infinite = false;
  below.hi_value = at;
  above.lo_value = next;
  return true;
}

}  // namespace mm

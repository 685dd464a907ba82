// Parts of a box with bounds of a claim's margin in each of them.
#pragma once
#include <cmath>

#include "evaluate/halves.hpp"
#include "evaluate/room.hpp"

namespace mm {

/// Both ends as if endless where the claim may be decided by what has no margin.
struct MarginBounds {
  double least = -HUGE_VAL, most = HUGE_VAL;
  bool undefined = true;
};

template <class Num>
MarginBounds bounds_of(const Room<Num>& room) {
  MarginBounds out;
  out.undefined = room.undefined;
  const Interval number = room.some ? bounds(room.number) : Interval::empty();
  out.least = room.none ? -HUGE_VAL : room.some ? number.lo() : HUGE_VAL;
  out.most = room.endless ? HUGE_VAL : room.some ? number.hi : -HUGE_VAL;
  if (std::isnan(out.least)) out.least = -HUGE_VAL;
  if (std::isnan(out.most)) out.most = HUGE_VAL;
  return out;
}

struct MarginPiece {
  std::vector<ExactInterval> numbers;  // by variable
  std::vector<const SymbolicSet*> symbols;
  MarginBounds bounds;
  std::size_t axis = 0;  // where to cut it; the number of variables: nowhere
};

/// Cuts what both are alike, along one value; false where that is too narrow to be cut. `halves` must stay as
/// long as the pieces.
bool halve(const Variable& variable, std::size_t v, SymbolHalves& halves, MarginPiece& first,
           MarginPiece& second);

}  // namespace mm

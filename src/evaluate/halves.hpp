// What the searches that cut a box in pieces have in common.
#pragma once
#include <algorithm>
#include <cmath>
#include <deque>
#include <utility>

#include "evaluate/variables.hpp"

namespace mm {

/// Halves of sets of words or sizes; the pieces that they belong to point to them.
class SymbolHalves {
 public:
  using Pair = std::pair<const SymbolicSet*, const SymbolicSet*>;

  /// Nulls where there are not two members. They stay until `clear`.
  Pair of(const Variable& variable, const SymbolicSet& set) {
    const std::vector<std::uint32_t>& members = set.all ? variable.members : set.members;
    if (members.size() < 2) return {};
    const auto middle = members.begin() + static_cast<std::ptrdiff_t>(members.size() / 2);
    const SymbolicSet& first = made_.emplace_back(SymbolicSet{false, {members.begin(), middle}});
    return {&first, &made_.emplace_back(SymbolicSet{false, {middle, members.end()}})};
  }
  void clear() { made_.clear(); }

 private:
  std::deque<SymbolicSet> made_;
};

/// How much it promises to cut along a range whose influence has no bound, as that of steps and of ranges
/// without end: the widest for its size comes first, and all before those of which the influence is known.
inline double promise_of(const Interval& range) {
  const double size = std::max(std::abs(range.lo()), std::abs(range.hi));
  return std::isfinite(size) && size > 0 ? 1e300 * (width(range) / size) : 1e304;
}

}  // namespace mm

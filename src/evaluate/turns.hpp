// Where a slack that never falls, or never rises, along one value turns over from failing to holding.
#pragma once
#include "evaluate/results.hpp"
#include "evaluate/slack_along.hpp"

namespace mm {

/// found: of the values where the worst slack holds, or the best one fails, `limit` is the last; where it is
/// `open`, the one next to them all.
struct Turn {
  enum class Kind : std::uint8_t { none, always_holds, always_fails, found } kind = Kind::none;
  Limit limit;
};

/// Exact where the slack is made of straight lines, else about a ten-millionth of it on the safe side. Leaves
/// the value anywhere. never_flat: it rises, or falls, all over the range.
Turn find_turn(const SlackAlong& slack, bool rises, bool never_flat);

/// Of one that may be flat.
Turn find_flat_turn(const SlackAlong& slack, bool rises);

}  // namespace mm

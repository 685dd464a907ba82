// Most slacks are straight lines in x, so that their zero is found exactly from two exact points; a bent one
// is bracketed and cut.
#include "evaluate/turns.hpp"

#include <algorithm>
#include <cmath>

namespace mm {

namespace {

constexpr int max_steps = 48, most_walks = 40;
constexpr double ten_million = 1e7;  // a limit is told to about a ten-millionth

struct Ends {
  double x0, x1, y0, y1;
};

/// Two values close together between which the slack's sign turns, as doubles see it: at the one the worst
/// slack is surely not negative, at the other the best one surely is.
struct Bracket {
  double not_negative, negative;
};

/// Walks out from the two values until the slack's sign turns between them, then cuts.
std::optional<Bracket> bent_zero(const SlackAlong& slack, Ends ends) {
  auto [x0, x1, y0, y1] = ends;
  const ExactInterval& range = slack.range();
  for (int step = 0; step < most_walks && std::isfinite(y0 + y1) && (y0 < 0) == (y1 < 0); ++step) {
    const double reach = (x1 - x0) * 2;
    if (range.hi_infinite) y1 = slack.quick(x1 += reach);
    if (range.lo_infinite) y0 = slack.quick(x0 -= reach);
  }
  if (!std::isfinite(y0 + y1) || (y0 < 0) == (y1 < 0)) return std::nullopt;
  // regula falsi, the weight of an end that stays halved (Illinois); every fourth step a plain halving
  double weight0 = y0, weight1 = y1;
  int stayed = 0;
  for (int step = 0; step < max_steps; ++step) {
    const bool halve = step % 4 == 3;
    const double at = halve ? x0 + (x1 - x0) / 2 : x0 - weight0 * ((x1 - x0) / (weight1 - weight0));
    if (!(at > std::min(x0, x1) && at < std::max(x0, x1))) break;
    const double y = slack.quick(at);
    if (!std::isfinite(y)) return std::nullopt;
    if ((y < 0) == (y0 < 0)) {
      x0 = at;
      y0 = weight0 = y;
      if (stayed == 1) weight1 /= 2;
      stayed = 1;
    } else {
      x1 = at;
      y1 = weight1 = y;
      if (stayed == -1) weight0 /= 2;
      stayed = -1;
    }
    if (std::abs(x1 - x0) * ten_million < std::abs(x1) + std::abs(x0)) break;
  }
  return y0 < 0 ? Bracket{x1, x0} : Bracket{x0, x1};
}

}  // namespace

Turn find_turn(const SlackAlong& slack, bool rises, bool never_flat) {
  using Kind = Turn::Kind;
  const ExactInterval& range = slack.range();
  const Rational x0 = value_at(range, false, range.lo_infinite ? Spot::middle : Spot::low);
  const Rational x1 = range.hi_infinite ? x0 + 1 : value_at(range, false, Spot::high);
  Ends ends{x0.to_double(), x1.to_double(), 0, 0};
  ends.y0 = slack.quick(ends.x0);
  ends.y1 = slack.quick(ends.x1);
  if (!std::isfinite(ends.y0 + ends.y1)) return {};
  const double nothing = (std::abs(ends.y0) + std::abs(ends.y1)) * line_tolerance;
  // the end from which the slack rises, or falls, speaks for all of the range
  if (!range.lo_infinite && std::abs(ends.y0) > nothing && (ends.y0 < 0) != rises)
    return {rises ? Kind::always_holds : Kind::always_fails, {}};
  if (!range.hi_infinite && std::abs(ends.y1) > nothing && (ends.y1 < 0) == rises)
    return {rises ? Kind::always_fails : Kind::always_holds, {}};
  if (!never_flat) return find_flat_turn(slack, rises);
  const auto at_zero = [&](const Rational& zero) {
    return Turn{Kind::found, {zero, slack.strict() == slack.worst()}};
  };
  const double near = ends.x0 - ends.y0 * ((ends.x1 - ends.x0) / (ends.y1 - ends.y0));
  // a straight line gives its zero at once
  if (std::isfinite(near) && std::abs(slack.quick(near)) <= nothing) {
    const auto y0 = slack.at(x0), y1 = slack.at(x1);
    if (!y0 || !y1) return {};
    if (!range.lo_infinite && slack.holds(*y0) == rises)
      return {rises ? Kind::always_holds : Kind::always_fails, {}};
    if (!range.hi_infinite && slack.holds(*y1) != rises)
      return {rises ? Kind::always_fails : Kind::always_holds, {}};
    if (*y0 != *y1) {
      const Rational zero = x0 - *y0 * (x1 - x0) / (*y1 - *y0);
      const auto y = slack.at(zero);
      if (y && *y == 0) return at_zero(zero);
    }
  }
  const auto near_zero = bent_zero(slack, ends);
  if (!near_zero) return {};
  const Rational short_one = shortest_between(exact(near_zero->negative), exact(near_zero->not_negative));
  const auto y = slack.at(short_one);
  if (y && *y == 0) return at_zero(short_one);
  if (slack.worst()) return {Kind::found, {exact(near_zero->not_negative), slack.strict()}};
  return {Kind::found, {exact(near_zero->negative)}};
}

}  // namespace mm

// Limits of one value x: where a requirement begins to hold surely, and where it begins to fail surely.
//
// The test is taken as slacks that must all be >= 0. With every other value at its worst (best) corner, a
// slack is a function of x alone that only rises or only falls; its zero is where x begins to suffice (to be
// able to suffice at all). Most slacks are straight lines in x, so the zero is found exactly from two exact
// points; a bent one is bracketed and cut.
#include "evaluate/limits.hpp"

#include <algorithm>

namespace mm {

namespace {

/// The slack at one value of x, others as the box stands; worst: its lower bound.
std::optional<Rational> slack_at(Bench& bench, const Slacks& slacks, const Slack& slack, CellId cell,
                                 const Rational& x, bool worst) {
  bench.box.narrow_exact(cell, ExactInterval::point(x));
  const ExactInterval range = slacks.exact_range(bench, slack);
  if (range.empty || (worst ? range.lo_infinite : range.hi_infinite)) return std::nullopt;
  return worst ? range.lo_value : range.hi_value;
}

/// Where the slack crosses 0 as x moves. found: `at` is the zero, to the precision of a double where it is
/// bent.
struct Crossing {
  enum class Kind : std::uint8_t { none, always_positive, always_negative, found } kind = Kind::none;
  Rational at;
};

constexpr int max_steps = 24, ten_million = 10'000'000;  // a limit is told to about a ten-millionth

Crossing crossing(Bench& bench, const Slacks& slacks, const Slack& slack, CellId cell,
                  const ExactInterval& range, bool rises, bool worst) {
  const auto f = [&](const Rational& x) { return slack_at(bench, slacks, slack, cell, x, worst); };
  Rational x0 = value_at(range, false, range.lo_infinite ? Spot::middle : Spot::low);
  Rational x1 = value_at(range, false, Spot::high);
  if (range.hi_infinite) x1 = x0 + 1;
  auto y0 = f(x0);
  auto y1 = f(x1);
  if (!y0 || !y1) return {};
  // the end from which the slack rises, or falls, speaks for all of the range
  if (!range.lo_infinite && (*y0 < 0) != rises)
    return {rises ? Crossing::Kind::always_positive : Crossing::Kind::always_negative, {}};
  if (!range.hi_infinite && (*y1 < 0) == rises)
    return {rises ? Crossing::Kind::always_negative : Crossing::Kind::always_positive, {}};
  if (*y0 != *y1) {  // a straight line gives its zero at once
    const Rational zero = x0 - *y0 * (x1 - x0) / (*y1 - *y0);
    const bool inside =
        (range.lo_infinite || zero >= range.lo_value) && (range.hi_infinite || zero <= range.hi_value);
    if (inside) {
      const auto y = f(zero);
      if (y && *y == 0) return {Crossing::Kind::found, zero};
    }
  }
  // bent: walk out until the sign turns, then cut
  for (int step = 0; step < 40 && (*y0 < 0) == (*y1 < 0); ++step) {
    const Rational reach = (x1 - x0) * 2;
    if (range.hi_infinite) {
      x1 += reach;
      y1 = f(x1);
    }
    if (range.lo_infinite) {
      x0 -= reach;
      y0 = f(x0);
    }
    if (!y0 || !y1) return {};
  }
  if ((*y0 < 0) == (*y1 < 0)) return {};
  // regula falsi, the weight of an end that stays halved (Illinois); every fourth step a plain halving
  Rational weight0 = *y0, weight1 = *y1;
  int stayed = 0;
  for (int step = 0; step < max_steps; ++step) {
    const bool halve = step % 4 == 3;
    const Rational middle =
        halve ? Rational((x0 + x1) / 2) : Rational((x0 * weight1 - x1 * weight0) / (weight1 - weight0));
    const Rational at = exact(middle.get_d());
    if (at <= std::min(x0, x1) || at >= std::max(x0, x1)) break;
    const auto y = f(at);
    if (!y) return {};
    if ((*y < 0) == (*y0 < 0)) {
      x0 = at;
      y0 = weight0 = *y;
      if (stayed == 1) weight1 /= 2;
      stayed = 1;
    } else {
      x1 = at;
      y1 = weight1 = *y;
      if (stayed == -1) weight0 /= 2;
      stayed = -1;
    }
    if (abs(Rational(x1 - x0)) * ten_million < abs(x1) + abs(x0)) break;
  }
  return {Crossing::Kind::found, (*y0 < 0) == worst ? x1 : x0};
}

void keep_least(std::optional<Rational>& into, const Rational& value) {
  if (!into || value < *into) into = value;
}
void keep_most(std::optional<Rational>& into, const Rational& value) {
  if (!into || value > *into) into = value;
}

}  // namespace

Limits find_limits(Bench& bench, const Variables& variables, Slacks& slacks, std::size_t v,
                   bool fits_wanted) {
  const CellId cell = variables[v].cell;
  const ExactInterval range = bench.box.exact(cell);
  KeptRanges kept(bench, variables);
  Limits limits;
  bool can_fit = fits_wanted && slacks.rest_holds();
  std::optional<Rational> fits_from, fits_to;
  bool any = false;
  for (const Slack& slack : slacks.list()) {
    limits.strict = limits.strict || slack.strict;
    if (slack.moves[v] == may_move) {
      can_fit = false;
      continue;
    }
    if (slack.moves[v] == still) {  // the others must see to it
      if (can_fit) {
        const bool corner = slacks.to_corner(bench, slack, true, variables.size());
        const ExactInterval worst = slacks.exact_range(bench, slack);
        kept.restore();
        can_fit = corner && !worst.empty && !worst.lo_infinite &&
                  (slack.strict ? worst.lo_value > 0 : worst.lo_value >= 0);
      }
      continue;
    }
    const bool rises = slack.moves[v] == may_rise;
    if (can_fit) {
      const bool corner = slacks.to_corner(bench, slack, true, v);
      const Crossing at = corner ? crossing(bench, slacks, slack, cell, range, rises, true) : Crossing{};
      kept.restore();
      can_fit = at.kind == Crossing::Kind::found || at.kind == Crossing::Kind::always_positive;
      if (at.kind == Crossing::Kind::found) {
        any = true;
        rises ? keep_most(fits_from, at.at) : keep_least(fits_to, at.at);
      }
    }
    const bool corner = slacks.to_corner(bench, slack, false, v);
    const Crossing at = corner ? crossing(bench, slacks, slack, cell, range, rises, false) : Crossing{};
    kept.restore();
    if (at.kind == Crossing::Kind::found)
      rises ? keep_most(limits.fails_to, at.at) : keep_least(limits.fails_from, at.at);
    limits.never = limits.never || at.kind == Crossing::Kind::always_negative;
  }
  if (!can_fit || !any || (fits_from && fits_to && *fits_from > *fits_to)) return limits;
  limits.fits_from = fits_from;
  limits.fits_to = fits_to;
  return limits;
}

}  // namespace mm

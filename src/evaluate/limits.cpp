// Limits of one value x: where a requirement begins to hold surely, and where it begins to fail surely.
//
// The test is taken as slacks that must all be >= 0. With every other value at its worst (best) corner, a
// slack is a function of x alone that only rises or only falls; its zero is where x begins to suffice (to be
// able to suffice at all). Most slacks are straight lines in x, so the zero is found exactly from two exact
// points; a bent one is bracketed and cut.
#include "evaluate/limits.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

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

constexpr int max_steps = 48, most_walks = 40;
constexpr double ten_million = 1e7;      // a limit is told to about a ten-millionth
constexpr double line_tolerance = 1e-9;  // of the slacks at the ends: what rounding may make of a zero

/// Slack of one value of x by doubles, which bound as safely as exact arithmetic and are much quicker.
class QuickSlack {
 public:
  QuickSlack(Bench& bench, const Slacks& slacks, const Slack& slack, CellId cell, bool worst)
      : bench_(bench), slacks_(slacks), slack_(slack), cell_(cell), worst_(worst) {}
  double operator()(double x) const {
    bench_.box.narrow(cell_, Interval::point(x));
    const Interval bounds = slacks_.range(bench_, slack_);
    return bounds.is_empty() ? std::numeric_limits<double>::quiet_NaN() : worst_ ? bounds.lo() : bounds.hi;
  }

 private:
  Bench& bench_;
  const Slacks& slacks_;
  const Slack& slack_;
  CellId cell_;
  bool worst_;
};

struct Ends {
  double x0, x1, y0, y1;
};

/// Two values close together between which the slack's sign turns, as doubles see it: at the one the worst
/// slack is surely not negative, at the other the best one surely is.
struct Bracket {
  double not_negative, negative;
};

/// Walks out from the two values until the slack's sign turns between them, then cuts.
std::optional<Bracket> bent_zero(const QuickSlack& f, const ExactInterval& range, Ends ends) {
  auto [x0, x1, y0, y1] = ends;
  for (int step = 0; step < most_walks && std::isfinite(y0 + y1) && (y0 < 0) == (y1 < 0); ++step) {
    const double reach = (x1 - x0) * 2;
    if (range.hi_infinite) y1 = f(x1 += reach);
    if (range.lo_infinite) y0 = f(x0 -= reach);
  }
  if (!std::isfinite(y0 + y1) || (y0 < 0) == (y1 < 0)) return std::nullopt;
  // regula falsi, the weight of an end that stays halved (Illinois); every fourth step a plain halving
  double weight0 = y0, weight1 = y1;
  int stayed = 0;
  for (int step = 0; step < max_steps; ++step) {
    const bool halve = step % 4 == 3;
    const double at = halve ? x0 + (x1 - x0) / 2 : x0 - weight0 * ((x1 - x0) / (weight1 - weight0));
    if (!(at > std::min(x0, x1) && at < std::max(x0, x1))) break;
    const double y = f(at);
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

/// The decimal of the fewest digits between two values or next to them: a limit that somebody wrote is one,
/// and no double.
Rational shortest_between(const Rational& a, const Rational& b) {
  const Rational rounded = times_power_of_two(std::max(abs(a), abs(b)), -50);
  const Rational low = std::min(a, b) - rounded, high = std::max(a, b) + rounded;
  Rational unit = 1;
  while (unit < high - low) unit *= 10;
  while (ceil(low / unit) * unit > high) unit /= 10;
  return ceil(low / unit) * unit;
}

/// Where the slack crosses 0 as x moves. found: `at` is the zero, or where the slack is bent and it is no
/// short number, a value next to it: where the worst slack is surely not negative, or the best one surely is.
struct Crossing {
  enum class Kind : std::uint8_t { none, always_positive, always_negative, found } kind = Kind::none;
  Rational at;
  bool exact = false;  // the slack is 0 there; else it is on the safe side of it
};

Crossing crossing(Bench& bench, const Slacks& slacks, const Slack& slack, CellId cell,
                  const ExactInterval& range, bool rises, bool worst) {
  const QuickSlack quick(bench, slacks, slack, cell, worst);
  const Rational x0 = value_at(range, false, range.lo_infinite ? Spot::middle : Spot::low);
  const Rational x1 = range.hi_infinite ? x0 + 1 : value_at(range, false, Spot::high);
  Ends ends{x0.to_double(), x1.to_double(), 0, 0};
  ends.y0 = quick(ends.x0);
  ends.y1 = quick(ends.x1);
  if (!std::isfinite(ends.y0 + ends.y1)) return {};
  const double nothing = (std::abs(ends.y0) + std::abs(ends.y1)) * line_tolerance;
  // the end from which the slack rises, or falls, speaks for all of the range
  if (!range.lo_infinite && std::abs(ends.y0) > nothing && (ends.y0 < 0) != rises)
    return {rises ? Crossing::Kind::always_positive : Crossing::Kind::always_negative, {}};
  if (!range.hi_infinite && std::abs(ends.y1) > nothing && (ends.y1 < 0) == rises)
    return {rises ? Crossing::Kind::always_negative : Crossing::Kind::always_positive, {}};
  const double near = ends.x0 - ends.y0 * ((ends.x1 - ends.x0) / (ends.y1 - ends.y0));
  if (std::isfinite(near) && std::abs(quick(near)) <= nothing) {  // a straight line gives its zero at once
    const auto f = [&](const Rational& x) { return slack_at(bench, slacks, slack, cell, x, worst); };
    const auto y0 = f(x0), y1 = f(x1);
    if (!y0 || !y1) return {};
    const auto fails = [&](const Rational& y) { return slack.strict ? y <= 0 : y < 0; };
    if (!range.lo_infinite && fails(*y0) != rises)
      return {rises ? Crossing::Kind::always_positive : Crossing::Kind::always_negative, {}};
    if (!range.hi_infinite && fails(*y1) == rises)
      return {rises ? Crossing::Kind::always_negative : Crossing::Kind::always_positive, {}};
    if (*y0 != *y1) {
      const Rational zero = x0 - *y0 * (x1 - x0) / (*y1 - *y0);
      const auto y = f(zero);
      if (y && *y == 0) return {Crossing::Kind::found, zero, true};
    }
  }
  const auto near_zero = bent_zero(quick, range, ends);
  if (!near_zero) return {};
  const Rational short_one = shortest_between(exact(near_zero->negative), exact(near_zero->not_negative));
  const auto y = slack_at(bench, slacks, slack, cell, short_one, worst);
  if (y && *y == 0) return {Crossing::Kind::found, short_one, true};
  return {Crossing::Kind::found, exact(worst ? near_zero->not_negative : near_zero->negative)};
}

void keep(std::optional<Limit>& into, const Limit& limit, bool up, bool open) {
  if (!into || outdoes(limit, *into, up, open)) into = limit;
}

}  // namespace

Limits find_limits(Bench& bench, const Variables& variables, Slacks& slacks, std::size_t v,
                   LimitsWanted wanted) {
  const CellId cell = variables[v].cell;
  const ExactInterval range = bench.box.exact(cell);
  const bool free = bench.box.is_free(cell);
  const std::size_t former = bench.box.at_ends();
  const auto put_back = [&] {
    bench.box.leave_ends(former);
    free ? bench.box.release(cell) : bench.box.narrow_exact(cell, range);
  };
  Limits limits;
  bool can_fit = wanted != LimitsWanted::fails && slacks.rest_holds();
  std::optional<Limit> fits_from, fits_to;
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
        put_back();
        can_fit = corner && !worst.empty && !worst.lo_infinite &&
                  (slack.strict ? worst.lo_value > 0 : worst.lo_value >= 0);
      }
      continue;
    }
    const bool rises = slack.moves[v] == may_rise;
    if (can_fit) {
      const bool corner = slacks.to_corner(bench, slack, true, v);
      const Crossing at = corner ? crossing(bench, slacks, slack, cell, range, rises, true) : Crossing{};
      put_back();
      can_fit = at.kind == Crossing::Kind::found || at.kind == Crossing::Kind::always_positive;
      if (at.kind == Crossing::Kind::found) {
        any = true;
        const Limit limit{at.at, slack.strict};
        keep(rises ? fits_from : fits_to, limit, rises, true);  // all slacks must hold
      }
    }
    if (wanted == LimitsWanted::fits) continue;
    const bool corner = slacks.to_corner(bench, slack, false, v);
    const Crossing at = corner ? crossing(bench, slacks, slack, cell, range, rises, false) : Crossing{};
    put_back();
    if (at.kind == Crossing::Kind::found) {
      const Limit limit{at.at, at.exact && !slack.strict};
      keep(rises ? limits.fails_to : limits.fails_from, limit, rises, false);  // one that fails is enough
    }
    limits.never = limits.never || at.kind == Crossing::Kind::always_negative;
  }
  if (!can_fit || !any || (fits_from && fits_to && nothing_between(*fits_from, *fits_to))) return limits;
  limits.fits_from = fits_from;
  limits.fits_to = fits_to;
  return limits;
}

void to_whole_numbers(Limits& limits) {
  const auto next = [](std::optional<Limit>& limit, bool from) {
    if (!limit) return;
    Rational whole = from ? ceil(limit->at) : floor(limit->at);
    if (limit->open && whole == limit->at) whole += from ? 1 : -1;
    limit = Limit{std::move(whole)};
  };
  next(limits.fits_from, true);
  next(limits.fits_to, false);
  next(limits.fails_from, true);
  next(limits.fails_to, false);
  if (limits.fits_from && limits.fits_to && nothing_between(*limits.fits_from, *limits.fits_to))
    limits.fits_from = limits.fits_to = std::nullopt;
}

}  // namespace mm

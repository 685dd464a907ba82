// Blames: which values to know better, and how well.
//
// The test is taken as slacks that must all be >= 0. For one value x, with every other value at its worst
// (best) corner, a slack is a function of x alone that only rises or only falls; its zero is where x begins
// to suffice (to be able to suffice at all). Most slacks are straight lines in x, so the zero is found
// exactly from two exact points; a bent one is bracketed and cut. What is known before anything is measured
// is then: x in fits_from..fits_to surely fits, x below fails_to or above fails_from surely fails.
#include <algorithm>
#include <cmath>

#include "evaluate/outcome.hpp"
#include "evaluate/slack.hpp"

namespace mm {

namespace {

constexpr std::size_t most_thresholds = 8;  // the most influential values get theirs worked out

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
                  const ExactInterval& range, bool worst) {
  const auto f = [&](const Rational& x) { return slack_at(bench, slacks, slack, cell, x, worst); };
  Rational x0 = value_at(range, false, range.lo_infinite ? Spot::middle : Spot::low);
  Rational x1 = value_at(range, false, Spot::high);
  if (range.hi_infinite) x1 = x0 + 1;
  auto y0 = f(x0);
  auto y1 = f(x1);
  if (!y0 || !y1) return {};
  const bool ends = !range.lo_infinite && !range.hi_infinite;
  if (ends && *y0 >= 0 && *y1 >= 0) return {Crossing::Kind::always_positive, {}};
  if (ends && *y0 < 0 && *y1 < 0) return {Crossing::Kind::always_negative, {}};
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
  if ((*y0 < 0) == (*y1 < 0)) {
    return {*y0 < 0 ? Crossing::Kind::always_negative : Crossing::Kind::always_positive, {}};
  }
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

/// Thresholds of one variable. `test_alone`: a failing test is a failing claim (`when` surely holds).
void find_thresholds(Bench& bench, const Variables& variables, Slacks& slacks, std::size_t v, bool pure,
                     bool test_alone, Blame& blame) {
  const CellId cell = variables[v].cell;
  const ExactInterval range = bench.box.exact(cell);
  bool can_fit = pure || slacks.rest_holds();
  std::optional<Rational> fits_from, fits_to;
  bool any = false;
  for (const Slack& slack : slacks.list()) {
    if (slack.moves[v] == may_move) return;
    if (slack.moves[v] == still) {  // the others must see to it
      if (can_fit) {
        const bool corner = slacks.to_corner(bench, slack, true, variables.size());
        const ExactInterval worst = slacks.exact_range(bench, slack);
        variables.release(bench);
        can_fit = corner && !worst.empty && !worst.lo_infinite &&
                  (slack.strict ? worst.lo_value > 0 : worst.lo_value >= 0);
      }
      continue;
    }
    const bool rises = slack.moves[v] == may_rise;
    if (can_fit) {
      const bool corner = slacks.to_corner(bench, slack, true, v);
      const Crossing at = corner ? crossing(bench, slacks, slack, cell, range, true) : Crossing{};
      variables.release(bench);
      can_fit = at.kind == Crossing::Kind::found || at.kind == Crossing::Kind::always_positive;
      if (at.kind == Crossing::Kind::found) {
        any = true;
        rises ? keep_most(fits_from, at.at) : keep_least(fits_to, at.at);
      }
    }
    if (test_alone) {
      const bool corner = slacks.to_corner(bench, slack, false, v);
      const Crossing at = corner ? crossing(bench, slacks, slack, cell, range, false) : Crossing{};
      variables.release(bench);
      if (at.kind == Crossing::Kind::found) {
        rises ? keep_most(blame.fails_to, at.at) : keep_least(blame.fails_from, at.at);
      }
    }
  }
  if (!can_fit || !any || (fits_from && fits_to && *fits_from > *fits_to)) return;
  blame.fits_from = fits_from;
  blame.fits_to = fits_to;
}

/// The greatest decimal of two digits below `value` (> 0): the limit itself may belong to the other side.
Rational two_digits_below(const Rational& value) {
  Rational unit = 1;
  while (value / unit > 99) unit *= 10;
  while (value / unit <= 10) unit /= 10;
  const Rational units = value / unit;
  mpz_class whole;
  mpz_cdiv_q(whole.get_mpz_t(), units.get_num_mpz_t(), units.get_den_mpz_t());
  return Rational(whole - 1) * unit;
}

void find_half_width(const ExactInterval& range, Blame& blame) {
  if (range.lo_infinite || range.hi_infinite || range.empty) return;
  const Rational middle = (range.lo_value + range.hi_value) / 2;
  const Rational half = (range.hi_value - range.lo_value) / 2;
  std::optional<Rational> room;
  bool closed = true;
  const bool fits_known = blame.fits_from || blame.fits_to;
  if (fits_known && (!blame.fits_from || middle > *blame.fits_from) &&
      (!blame.fits_to || middle < *blame.fits_to)) {
    if (blame.fits_from) keep_least(room, Rational(middle - *blame.fits_from));
    if (blame.fits_to) keep_least(room, Rational(*blame.fits_to - middle));
  } else if (blame.fails_to && middle < *blame.fails_to) {
    room = *blame.fails_to - middle;
    closed = false;
  } else if (blame.fails_from && middle > *blame.fails_from) {
    room = middle - *blame.fails_from;
    closed = false;
  }
  if (!room || *room <= 0 || *room > half) return;
  blame.needed_half_width = closed ? *room : two_digits_below(*room);
}

}  // namespace

void find_blames(Bench& bench, const Claim& claim, const Variables& variables, Search& search,
                 Outcome& outcome) {
  if (search.glance(claim, variables) != Verdict::unknown) return;
  const std::vector<Leaf> leaves = search.tightener().leaves();
  Slacks slacks;
  const bool pure = slacks.take(bench, claim, variables);
  bool test_alone = true;
  Claim::Part parts[3];
  const std::size_t count = claim.parts(parts);
  for (std::size_t p = 0; p + 1 < count; ++p) {
    bench.fast.start(*parts[p].program, *claim.binding, bench.world, bench.box);
    test_alone = test_alone && bench.fast.truth(parts[p].block) == surely_yes;
  }
  struct Found {
    double influence;
    std::size_t variable;
    Blame blame;
  };
  std::vector<Found> found;
  for (std::size_t v = 0; v < variables.size(); ++v) {
    const Variable& variable = variables[v];
    if (variable.adjustable) continue;
    double influence = 0;
    bool matters = false;
    for (const Leaf& leaf : leaves) {
      if (is_single(leaf.bits) || leaf.moves[v] == still) continue;
      matters = true;
      influence = std::max(influence, leaf.influence[v]);
    }
    if (!matters) continue;
    const CellOwner owner = bench.index.owner(variable.cell);
    Blame blame;
    blame.entity = owner.entity;
    blame.attribute = owner.attribute;
    blame.cell = variable.cell;
    const Cell& cell = bench.index.build.cells[variable.cell];
    blame.missing = (cell.flags & cell_missing) != 0;
    found.push_back({blame.missing || !variable.number ? HUGE_VAL : influence, v, std::move(blame)});
  }
  std::stable_sort(found.begin(), found.end(), [](const Found& a, const Found& b) {
    if (a.blame.missing != b.blame.missing) return a.blame.missing;
    return a.influence > b.influence;
  });
  for (Found& entry : found) {
    if (outcome.blames.size() < most_thresholds && variables[entry.variable].number &&
        !slacks.list().empty()) {
      find_thresholds(bench, variables, slacks, entry.variable, pure, test_alone, entry.blame);
      if (!entry.blame.missing) find_half_width(bench.box.exact(entry.blame.cell), entry.blame);
    }
    outcome.blames.push_back(std::move(entry.blame));
  }
}

}  // namespace mm

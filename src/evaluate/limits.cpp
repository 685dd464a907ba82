// Limits of one value x: where a requirement begins to hold surely, and where it begins to fail surely.
//
// The test is taken as slacks that must all be >= 0. With every other value at its worst (best) corner, a
// slack is a function of x alone that never falls or never rises; where it turns over is where x begins to
// suffice (to be able to suffice at all).
#include "evaluate/limits.hpp"

#include "evaluate/turns.hpp"

namespace mm {

namespace {

void keep(std::optional<Limit>& into, const Limit& limit, bool up, bool open) {
  if (!into || outdoes(limit, *into, up, open)) into = limit;
}

}  // namespace

Limits find_limits(Bench& bench, const Variables& variables, const Slacks& slacks, std::size_t v,
                   LimitsWanted wanted) {
  if (slacks.rest_holds()) return find_limits(bench, variables, slacks, slacks.list(), v, wanted);
  if (wanted == LimitsWanted::fits) return {};
  return find_limits(bench, variables, slacks, slacks.list(), v, LimitsWanted::fails);
}

Limits find_limits(Bench& bench, const Variables& variables, const Slacks& slacks, std::span<const Slack> of,
                   std::size_t v, LimitsWanted wanted) {
  const CellId cell = variables[v].cell;
  const ExactInterval range = bench.box.exact(cell);
  const bool free = bench.box.is_free(cell);
  const std::size_t former = bench.box.at_ends();
  const auto put_back = [&] {
    bench.box.leave_ends(former);
    free ? bench.box.release(cell) : bench.box.narrow_exact(cell, range);
  };
  Limits limits;
  bool can_fit = wanted != LimitsWanted::fails;
  std::optional<Limit> fits_from, fits_to;
  bool any = false;
  for (const Slack& slack : of) {
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
    const auto turn_of = [&](bool worst) {
      return find_turn(SlackAlong(bench, slacks, slack, cell, worst), rises, slack.never_flat[v]);
    };
    if (can_fit) {
      const bool corner = slacks.to_corner(bench, slack, true, v);
      const Turn turn = corner ? turn_of(true) : Turn{};
      put_back();
      can_fit = turn.kind == Turn::Kind::found || turn.kind == Turn::Kind::always_holds;
      if (turn.kind == Turn::Kind::found) {
        any = true;
        keep(rises ? fits_from : fits_to, turn.limit, rises, true);  // all slacks must hold
      }
    }
    if (wanted == LimitsWanted::fits) continue;
    const bool corner = slacks.to_corner(bench, slack, false, v);
    const Turn turn = corner ? turn_of(false) : Turn{};
    put_back();
    if (turn.kind == Turn::Kind::found)  // one that fails is enough
      keep(rises ? limits.fails_to : limits.fails_from, turn.limit, rises, false);
    limits.never = limits.never || turn.kind == Turn::Kind::always_fails;
  }
  limits.always = can_fit && !any && !of.empty();
  if (!can_fit || !any || (fits_from && fits_to && nothing_between(*fits_from, *fits_to))) return limits;
  // a turn is found to a hair's breadth: what surely fails does not fit
  if (fits_from && limits.fails_to && !nothing_between(*fits_from, *limits.fails_to))
    fits_from = Limit{limits.fails_to->at, !limits.fails_to->open};
  if (fits_to && limits.fails_from && !nothing_between(*limits.fails_from, *fits_to))
    fits_to = Limit{limits.fails_from->at, !limits.fails_from->open};
  limits.fits_from = fits_from;
  limits.fits_to = fits_to;
  return limits;
}

SureValues sure_values(const Limits& limits) {
  if (limits.always) return {ValueSet::all(), {}};
  if (limits.never) return {{}, ValueSet::all()};
  SureValues out;
  if (limits.fits_from || limits.fits_to) out.holds = ValueSet({limits.fits_from, limits.fits_to});
  if (limits.fails_to) out.fails = ValueSet({std::nullopt, limits.fails_to});
  if (limits.fails_from) out.fails = out.fails.united(ValueSet({limits.fails_from, std::nullopt}));
  return out;
}

}  // namespace mm

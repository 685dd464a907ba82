// Each requirement that must hold is run backwards on each of its values: with the others where they help it
// most, the value must not lie beyond the point where the requirement begins to fail. That point is exact for
// straight lines, so that x > 5 and x <= 5 are seen to exclude each other, which no cutting in doubles would
// show. What one requirement takes away is passed on to the next; rounds end when nothing moved, or after a
// few, since values that push each other by small steps are better cut in halves.
#include "solve/narrow.hpp"

namespace mm {

namespace {

constexpr int most_rounds = 8;

/// False when the range is empty now.
bool cut_off(Bench& bench, CellId cell, const Limits& limits, bool& moved) {
  const ExactInterval range = bench.box.exact(cell);
  ExactInterval left = range;
  if (limits.fails_to && (left.lo_infinite || limits.fails_to->at > left.lo_value)) {
    left.lo_infinite = false;
    left.lo_value = limits.fails_to->at;
  }
  if (limits.fails_from && (left.hi_infinite || limits.fails_from->at < left.hi_value)) {
    left.hi_infinite = false;
    left.hi_value = limits.fails_from->at;
  }
  if (!left.lo_infinite && !left.hi_infinite && left.lo_value > left.hi_value) return false;
  const bool same_lo =
      left.lo_infinite == range.lo_infinite && (left.lo_infinite || left.lo_value == range.lo_value);
  const bool same_hi =
      left.hi_infinite == range.hi_infinite && (left.hi_infinite || left.hi_value == range.hi_value);
  if (same_lo && same_hi) return true;
  moved = true;
  bench.box.narrow_exact(cell, left);
  return true;
}

}  // namespace

bool narrow_box(Bench& bench, const std::vector<Narrowed>& claims) {
  bool moved = true;
  for (int round = 0; round < most_rounds && moved && !bench.spent(); ++round) {
    moved = false;
    for (const Narrowed& narrowed : claims) {
      if (judge(bench.sharp, bench, *narrowed.claim).holds == surely_no) return false;
      if (!test_decides(bench, *narrowed.claim)) continue;
      Slacks slacks;
      slacks.take(bench, *narrowed.claim, *narrowed.variables);
      for (std::size_t v = 0; v < narrowed.variables->size(); ++v) {
        const Variable& variable = (*narrowed.variables)[v];
        if (!variable.number || slacks.list().empty() || bench.box.exact(variable.cell).is_point()) continue;
        const Limits limits = find_limits(bench, *narrowed.variables, slacks, v, LimitsWanted::fails);
        if (limits.never || !cut_off(bench, variable.cell, limits, moved)) return false;
      }
    }
  }
  return true;
}

}  // namespace mm

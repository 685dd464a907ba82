// Blames: which values to know better, and how well. What is known before anything is measured: x in
// fits_from..fits_to surely fits, x below fails_to or above fails_from surely fails (see limits.cpp). The
// spread that x may keep is the room between its middle and the nearest of these. Words and sizes are tried
// one by one.
#include <algorithm>
#include <cmath>

#include "evaluate/limits.hpp"
#include "evaluate/outcome.hpp"

namespace mm {

namespace {

constexpr std::size_t most_thresholds = 8;  // the most influential values get theirs worked out
constexpr std::size_t most_words = 64;      // of one value that are tried

void keep_least(std::optional<Rational>& into, const Rational& value) {
  if (!into || value < *into) into = value;
}

/// The greatest decimal of two digits below `value` (> 0): the limit itself may belong to the other side.
Rational two_digits_below(const Rational& value) {
  Rational unit = 1;
  while (value / unit > 99) unit *= 10;
  while (value / unit <= 10) unit /= 10;
  return (ceil(value / unit) - 1) * unit;
}

void find_half_width(const ExactInterval& range, const Limits& limits, Blame& blame) {
  if (range.lo_infinite || range.hi_infinite || range.empty) return;
  const Rational middle = (range.lo_value + range.hi_value) / 2;
  const Rational half = (range.hi_value - range.lo_value) / 2;
  std::optional<Rational> room;
  bool closed = !limits.strict;
  const bool fits_known = limits.fits_from || limits.fits_to;
  if (fits_known && (!limits.fits_from || middle > limits.fits_from->at) &&
      (!limits.fits_to || middle < limits.fits_to->at)) {
    if (limits.fits_from) keep_least(room, middle - limits.fits_from->at);
    if (limits.fits_to) keep_least(room, limits.fits_to->at - middle);
  } else if (limits.fails_to && middle < limits.fails_to->at) {
    room = limits.fails_to->at - middle;
    closed = false;
  } else if (limits.fails_from && middle > limits.fails_from->at) {
    room = middle - limits.fails_from->at;
    closed = false;
  }
  if (!room || *room <= 0 || *room > half) return;
  blame.needed_half_width = closed ? *room : two_digits_below(*room);
}

bool is_yes_no(const Bench& bench, CellId cell) {
  const AttributeDef* def = bench.index.attribute(cell);
  return def != nullptr && def->type.kind == TypeKind::boolean;
}

/// Each word, size or yes_no that the value may be, or that the claim compares with, on its own. Of sizes
/// there is no end: those that are written somewhere are tried, and those alone told that the claim asks for.
void find_fitting(Bench& bench, const Claim& claim, const Variables& variables, std::size_t v, Blame& blame) {
  const Variable& variable = variables[v];
  const std::vector<std::uint32_t> members =
      variable.number ? std::vector<std::uint32_t>{0, 1} : variable.members;
  if (members.size() > most_words) return;
  const KeptRanges kept(bench, variables);
  std::vector<std::uint32_t> fitting;
  std::size_t failing = 0;
  for (const std::uint32_t member : members) {
    if (variable.number)
      bench.box.narrow_exact(variable.cell, ExactInterval::point(member));
    else
      bench.box.narrow_symbols(variable.cell, variables.single(member));
    const Verdict verdict = verdict_of(judge(bench.fast, bench, claim));
    if (verdict == Verdict::conflict) ++failing;
    if (!passes(verdict)) continue;
    const bool told = !variable.complete && std::any_of(fitting.begin(), fitting.end(), [&](std::uint32_t f) {
      return bench.designations->equal(f, member) == surely_yes;
    });
    if (told)
      ++failing;
    else
      fitting.push_back(member);
    if (is_fresh(member)) return;
  }
  const auto is_asked = [&](std::uint32_t member) {
    return std::any_of(variable.asked.begin(), variable.asked.end(), [&](std::uint32_t a) {
      return a == member || bench.designations->equal(a, member) == surely_yes;
    });
  };
  if (!variable.complete && !std::all_of(fitting.begin(), fitting.end(), is_asked)) return;
  const bool all_known = failing + fitting.size() == members.size();
  if (failing == 0 || (!variable.complete && !all_known)) return;
  blame.fitting = std::move(fitting);
  blame.others_fail = all_known;
  blame.more_words = !variable.complete;
}

}  // namespace

void find_blames(Bench& bench, const Claim& claim, const Variables& variables, const Inspection& inspected,
                 Outcome& outcome, bool with_limits) {
  if (inspected.verdict != Verdict::unknown) return;
  struct Found {
    double influence;
    std::size_t variable;
    bool missing;
  };
  std::vector<Found> found;
  for (std::size_t v = 0; v < variables.size(); ++v) {
    const Variable& variable = variables[v];
    if (variable.adjustable) continue;
    double influence = 0;
    if (!inspected.matters(v)) continue;
    for (const Leaf& leaf : inspected.leaves) {
      if (!is_single(leaf.bits) && leaf.moves[v] != still) influence = std::max(influence, leaf.influence[v]);
    }
    const bool missing = (bench.index.build.cells[variable.cell].flags & cell_missing) != 0;
    found.push_back({missing || !variable.number ? HUGE_VAL : influence, v, missing});
  }
  std::stable_sort(found.begin(), found.end(), [](const Found& a, const Found& b) {
    if (a.missing != b.missing) return a.missing;
    return a.influence > b.influence;
  });
  // where `when` is open, it may spare what fails
  const LimitsWanted wanted = test_decides(bench, claim) ? LimitsWanted::both : LimitsWanted::fits;
  for (const Found& entry : found) {
    const Variable& variable = variables[entry.variable];
    const CellOwner owner = bench.index.owner(variable.cell);
    Blame blame;
    blame.entity = owner.entity;
    blame.attribute = owner.attribute;
    blame.cell = variable.cell;
    blame.missing = entry.missing;
    const bool wanted_here = with_limits && outcome.blames.size() < most_thresholds;
    if (wanted_here && (!variable.number || is_yes_no(bench, variable.cell))) {
      find_fitting(bench, claim, variables, entry.variable, blame);
    } else if (wanted_here && !inspected.slacks.list().empty()) {
      Limits limits = find_limits(bench, variables, inspected.slacks, entry.variable, wanted);
      if (!blame.missing) find_half_width(bench.box.exact(blame.cell), limits, blame);
      if (variable.integer) to_whole_numbers(limits);
      blame.fits_from = limits.fits_from;
      blame.fits_to = limits.fits_to;
      blame.fails_from = limits.fails_from;
      blame.fails_to = limits.fails_to;
    }
    outcome.blames.push_back(std::move(blame));
  }
}

}  // namespace mm

// Blames: which values to know better, and how well. What is known before anything is measured: where x
// surely fits and where it surely fails (see limits.cpp and test_along.cpp). The spread that x may keep is
// the room between its middle and the nearest end of these. Words and sizes are tried one by one.
#include "evaluate/blames.hpp"

#include <algorithm>
#include <cmath>

#include "evaluate/test_along.hpp"

namespace mm {

namespace {

constexpr std::size_t most_thresholds = 8;  // the most influential values get theirs worked out
constexpr std::size_t most_words = 64;      // of one value that are tried

/// The greatest decimal of two digits below `value` (> 0): the limit itself may belong to the other side.
Rational two_digits_below(const Rational& value) {
  Rational unit = 1;
  while (value / unit > 99) unit *= 10;
  while (value / unit <= 10) unit /= 10;
  return (ceil(value / unit) - 1) * unit;
}

bool is_inside(const Rational& value, const Region& region) {
  return (!region.from || value > region.from->at) && (!region.to || value < region.to->at);
}

/// How far the middle may be off in the region; none outside of it.
std::optional<Rational> room_in(const ValueSet& values, const Rational& middle, bool fits) {
  for (const Region& region : values.regions()) {
    if (!is_inside(middle, region)) continue;
    const Rational down = region.from ? middle - region.from->at : 0;
    const Rational up = region.to ? region.to->at - middle : 0;
    const bool by_from = region.from && (!region.to || down < up);
    const std::optional<Limit>& nearest = by_from ? region.from : region.to;
    if (!nearest) return std::nullopt;
    const Rational& room = by_from ? down : up;
    return fits && !nearest->open ? room : two_digits_below(room);
  }
  return std::nullopt;
}

void find_half_width(const ExactInterval& range, const SureValues& sure, Blame& blame) {
  if (range.lo_infinite || range.hi_infinite || range.empty) return;
  const Rational middle = (range.lo_value + range.hi_value) / 2;
  const Rational half = (range.hi_value - range.lo_value) / 2;
  std::optional<Rational> room = room_in(sure.holds, middle, true);
  if (!room) room = room_in(sure.fails, middle, false);
  if (room && *room <= half) blame.needed_half_width = *room;
}

/// Without what begins at one end of the declared range and leads out of it: nobody finds a value just there.
ValueSet inside(const ValueSet& values, const ExactInterval& range) {
  ValueSet out;
  for (const Region& region : values.regions()) {
    const bool above = region.from && !range.hi_infinite && region.from->at >= range.hi_value;
    const bool below = region.to && !range.lo_infinite && region.to->at <= range.lo_value;
    if (!above && !below) out = out.united(ValueSet(region));
  }
  return out;
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
  const Slacks& slacks = inspected.slacks;
  const bool decides = test_decides(bench, claim);
  std::optional<TestAlong> written;
  if (with_limits && !(decides && slacks.all_of_test() && slacks.are_monotone()))
    written.emplace(bench, claim, variables);
  const auto sure_along = [&](std::size_t v) {
    if (written && written->is_known()) return written->along(v);
    if (slacks.list().empty()) return SureValues{};
    // where `when` is open, it may spare what fails
    const LimitsWanted wanted = decides ? LimitsWanted::both : LimitsWanted::fits;
    return sure_values(find_limits(bench, variables, slacks, v, wanted));
  };
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
    } else if (wanted_here) {
      SureValues sure = sure_along(entry.variable);
      const ExactInterval range = bench.box.exact(blame.cell);
      if (!blame.missing) find_half_width(range, sure, blame);
      if (variable.integer)
        sure = {sure.holds.whole(), sure.fails.whole()};
      else if (blame.missing)
        sure = {inside(sure.holds, range), inside(sure.fails, range)};
      blame.fits = std::move(sure.holds);
      blame.fails = std::move(sure.fails);
    }
    outcome.blames.push_back(std::move(blame));
  }
}

}  // namespace mm

// Settings.
//
// A value that the builder sets in steps, from a list or by adding pieces is not a range: a gap between two
// steps may be where the requirement would fit. So few settings are tried one by one. A value that is set
// without steps is followed to where the requirement begins to fit (limits.cpp).
#include "evaluate/settings.hpp"

#include <algorithm>

#include "evaluate/limits.hpp"

namespace mm {

namespace {

constexpr std::size_t few_settings = 8;  // tried first, to see whether the rest is worth trying
constexpr std::size_t most_told = 64;    // of one value: each is tried, and told if it fits

struct Knob {
  std::size_t variable = 0;
  std::vector<Rational> settings;  // ascending; empty: any value of its range
};

std::vector<Knob> knobs_of(const Bench& bench, const Variables& variables, const Inspection& inspected) {
  std::vector<Knob> knobs;
  for (std::size_t v = 0; v < variables.size(); ++v) {
    if (variables[v].adjustable && inspected.matters(v))
      knobs.push_back({v, settings_of(bench.index, variables[v].cell)});
  }
  return knobs;
}

/// The next setting of all knobs together, the last knob turning fastest; false after the last one.
bool turn(const std::vector<Knob>& knobs, std::vector<std::size_t>& at) {
  for (std::size_t k = knobs.size(); k-- > 0;) {
    if (++at[k] < knobs[k].settings.size()) return true;
    at[k] = 0;
  }
  return false;
}

bool holds(Verdict verdict) { return verdict == Verdict::fits || verdict == Verdict::not_applicable; }

struct Run {
  std::size_t first, last;  // both hold, and all between
};

std::vector<Run> runs_that_hold(const std::vector<Verdict>& found) {
  std::vector<Run> runs;
  for (std::size_t i = 0; i < found.size(); ++i) {
    if (!holds(found[i])) continue;
    if (i > 0 && holds(found[i - 1]))
      runs.back().last = i;
    else
      runs.push_back({i, i});
  }
  return runs;
}

void take_runs(CellId cell, const std::vector<Rational>& settings, const std::vector<Run>& runs,
               Outcome& outcome) {
  for (const auto& [first, last] : runs)
    outcome.settings.push_back({cell, {settings[first]}, {settings[last]}});
}

/// Some values of a range, tried one by one: the requirement may fit at its ends and not between, or between
/// two pieces, where no limit is seen from the whole.
void sample(Bench& bench, const Claim& claim, const Variables& variables, std::size_t v, Search& search,
            Outcome& outcome) {
  const CellId cell = variables[v].cell;
  const ExactInterval range = bench.box.exact(cell);
  if (range.empty || range.lo_infinite || range.hi_infinite) return;
  KeptRanges kept(bench, variables);
  const auto verdict_at = [&](const ExactInterval& settings) {
    bench.box.narrow_exact(cell, settings);
    return search.glance(claim, variables);
  };
  constexpr unsigned pieces = 8;
  std::vector<Rational> points;
  std::vector<Verdict> found;
  for (unsigned i = 0; i <= pieces && !bench.spent(); ++i) {
    points.push_back(range.lo_value + (range.hi_value - range.lo_value) * i / pieces);
    found.push_back(verdict_at(ExactInterval::point(points.back())));
  }
  std::vector<Run> runs = runs_that_hold(found);
  for (auto& [first, last] : runs)
    while (last > first && !holds(verdict_at(ExactInterval::of(points[first], points[last])))) --last;
  take_runs(cell, points, runs, outcome);
}

/// A value that is set without steps, alone: where the requirement surely fits.
void follow(Bench& bench, const Variables& variables, const Slacks& slacks, std::size_t v, Outcome& outcome) {
  if (!slacks.all_of_test()) return;
  const Limits limits = find_limits(bench, variables, slacks, v, LimitsWanted::fits);
  if (!limits.fits_from && !limits.fits_to) return;
  const ExactInterval range = bench.box.exact(variables[v].cell);
  SettingWindow window;
  window.cell = variables[v].cell;
  window.from = limits.fits_from ? *limits.fits_from : Limit{range.lo_value};
  window.to = limits.fits_to ? *limits.fits_to : Limit{range.hi_value};
  if (!window.empty()) outcome.settings.push_back(window);
}

/// A verdict for each setting of all knobs together. When the few tried first differ, the rest stay
/// `unknown`: they cannot make all agree.
std::vector<Verdict> try_each(Bench& bench, const Claim& claim, const Variables& variables, Search& search,
                              const std::vector<Knob>& knobs, std::size_t together) {
  std::vector<Verdict> found(together, Verdict::unknown);
  bool any_holds = false, any_fails = false, any_open = false;
  const bool many = together > (knobs.size() == 1 ? most_told : 2 * few_settings);  // no window is read off
  const std::size_t coarse = many ? together / few_settings : 1;
  for (const std::size_t stride : {coarse, std::size_t{1}}) {
    std::vector<std::size_t> at(knobs.size(), 0);
    std::size_t i = 0;
    do {
      if (i % stride != 0 || found[i] != Verdict::unknown) continue;
      for (std::size_t k = 0; k < knobs.size(); ++k)
        bench.box.narrow_exact(variables[knobs[k].variable].cell,
                               ExactInterval::point(knobs[k].settings[at[k]]));
      found[i] = search.glance(claim, variables);
      any_holds = any_holds || holds(found[i]);
      any_fails = any_fails || found[i] == Verdict::conflict;
      any_open = any_open || found[i] == Verdict::unknown;
      if (many && (any_open || (any_holds && any_fails))) return found;
    } while (++i, turn(knobs, at) && !bench.spent());
    if (any_open || (any_holds && any_fails)) break;
  }
  return found;
}

/// The settings that surely fit, by their own verdicts when all were tried, else where the limits say so.
void find_window(Bench& bench, const Variables& variables, const Slacks& slacks, const Knob& knob,
                 const std::vector<Verdict>& found, Outcome& outcome) {
  const auto& settings = knob.settings;
  if (settings.size() > most_told) {
    follow(bench, variables, slacks, knob.variable, outcome);
    if (outcome.settings.empty()) {
      std::vector<Run> runs = runs_that_hold(found);
      if (runs.size() > 1) runs.resize(1);  // of the few that were tried: what lies between is not known
      take_runs(variables[knob.variable].cell, settings, runs, outcome);
      return;
    }
    const auto inside = [&](const Rational& setting) { return outcome.settings[0].holds(setting); };
    const auto first = std::find_if(settings.begin(), settings.end(), inside);
    const auto last = std::find_if_not(first, settings.end(), inside);
    if (first < last)
      outcome.settings.edit()[0] = {variables[knob.variable].cell, {*first}, {*(last - 1)}};
    else
      outcome.settings.edit().clear();
    return;
  }
  take_runs(variables[knob.variable].cell, settings, runs_that_hold(found), outcome);
}

}  // namespace

std::vector<Rational> settings_of(const BuildIndex& index, CellId id) {
  const Cell& cell = index.build.cells[id];
  if ((cell.flags & cell_adjustable) == 0 || !cell.given) return {};
  const Given& given = index.build.givens[cell.given];
  if (given.adjustment && !given.adjustment->settings.empty()) return given.adjustment->settings;
  const ExactInterval& range = index.exact(id);
  std::optional<Rational> step;
  if (given.adjustment) step = given.adjustment->step;
  if (!step && (cell.flags & cell_integer) != 0) step = 1;
  if (!step || range.empty || range.lo_infinite || range.hi_infinite) return {};
  if ((range.hi_value - range.lo_value) / *step > most_settings) return {};
  std::vector<Rational> out;
  for (Rational at = range.lo_value; at <= range.hi_value; at += *step) out.push_back(at);
  return out;
}

void try_settings(Bench& bench, const Claim& claim, const Variables& variables, Search& search,
                  const Inspection& inspected, Outcome& outcome) {
  std::vector<Knob> knobs = knobs_of(bench, variables, inspected);
  if (knobs.size() == 1 && knobs[0].settings.empty()) {
    follow(bench, variables, inspected.slacks, knobs[0].variable, outcome);
    if (outcome.settings.empty()) sample(bench, claim, variables, knobs[0].variable, search, outcome);
    return;
  }
  std::erase_if(knobs, [](const Knob& knob) { return knob.settings.empty(); });
  std::size_t together = 1;
  for (const Knob& knob : knobs) together = std::min(together * knob.settings.size(), most_settings + 1);
  if (knobs.empty() || together > most_settings) return;
  KeptRanges kept(bench, variables);
  const std::vector<Verdict> found = try_each(bench, claim, variables, search, knobs, together);
  kept.restore();
  if (bench.spent()) return;
  const auto all = [&](auto is) { return std::all_of(found.begin(), found.end(), is); };
  if (all(holds) || all([](Verdict verdict) { return verdict == Verdict::conflict; })) {
    outcome.verdict = holds(found[0]) ? Verdict::fits : Verdict::conflict;
    outcome.split = true;
    return;
  }
  if (knobs.size() == 1) find_window(bench, variables, inspected.slacks, knobs[0], found, outcome);
}

}  // namespace mm

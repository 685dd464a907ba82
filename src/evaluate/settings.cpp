// Settings.
//
// A value that the builder sets in steps, from a list or by adding pieces is not a range: a gap between two
// steps may be where the requirement would fit. So few settings are tried one by one. Of many a few are tried
// first; where they agree a stretch is looked at as a whole, and cut in two where it neither fits nor fails:
// the settings near a limit are tried alone, those far from it never. Where they differ all that is left to
// find is where those that fit end. A value that is set without steps is followed to where the requirement
// begins to fit (limits.cpp).
#include "evaluate/settings.hpp"

#include <algorithm>

#include "evaluate/limits.hpp"
#include "evaluate/setting_search.hpp"

namespace mm {

namespace {

std::vector<Knob> knobs_of(const Bench& bench, const Variables& variables, const Inspection& inspected) {
  std::vector<Knob> knobs;
  for (std::size_t v = 0; v < variables.size(); ++v) {
    if (variables[v].adjustable && inspected.matters(v))
      knobs.push_back({v, variables[v].cell, SettingList(bench.index, variables[v].cell)});
  }
  return knobs;
}

template <class List>
void take_runs(CellId cell, const List& settings, const std::vector<SettingRun>& runs, Outcome& outcome) {
  for (const auto& [first, last] : runs)
    outcome.settings.push_back({cell, {settings[first]}, {settings[last]}});
}

/// The decimal of fewest places between two values, the one itself excepted.
Rational roundest(const Rational& but, const Rational& other) {
  constexpr long most_places = 12;
  const bool up = but < other;
  for (long places = 0; places < most_places; ++places) {
    const Rational scale = whole_power(10, places);
    const Rational value = (up ? floor(other * scale) : ceil(other * scale)) / scale;
    if (up ? value > but : value < but) return value;
  }
  return but;
}

/// From a setting that holds towards one that does not, as far as all between hold: halved, then tried at the
/// roundest value that is left.
template <class Holds>
Rational furthest(Rational good, Rational bad, Holds all_hold) {
  constexpr int halvings = 12;
  const auto step = [&](const Rational& to) {
    const bool holds = all_hold(ExactInterval::of(std::min(good, to), std::max(good, to)));
    (holds ? good : bad) = to;
    return holds;
  };
  if (step(bad)) return good;
  for (int i = 0; i < halvings; ++i) step((good + bad) / 2);
  if (const Rational round = roundest(good, bad); round != good) step(round);
  return good;
}

/// Some values of a range, tried one by one, and on from those that hold: the requirement may fit at its ends
/// and not between, or between two pieces, where no limit is seen from the whole.
std::vector<SettingWindow> sampled(Bench& bench, const Claim& claim, const Variables& variables,
                                   std::size_t v, Search& search, const Inspection& inspected, bool closely) {
  const CellId cell = variables[v].cell;
  const ExactInterval range = bench.box.exact(cell);
  std::vector<SettingWindow> out;
  if (range.empty || range.lo_infinite || range.hi_infinite) return out;
  KeptRanges kept(bench, variables);
  const auto all_hold = [&](const ExactInterval& settings) {
    if (bench.spent()) return false;
    bench.box.narrow_exact(cell, settings);
    return passes(verdict_of(search.glance_within(claim, variables, inspected, closely)));
  };
  constexpr unsigned pieces = 8;
  std::vector<Rational> points;
  std::vector<Verdict> found;
  for (unsigned i = 0; i <= pieces && !bench.spent(); ++i) {
    points.push_back(range.lo_value + (range.hi_value - range.lo_value) * i / pieces);
    found.push_back(all_hold(ExactInterval::point(points.back())) ? Verdict::fits : Verdict::unknown);
  }
  for (auto [first, last] : runs_that_hold(found)) {
    while (last > first && !all_hold(ExactInterval::of(points[first], points[last]))) --last;
    const Rational low = first == 0 ? points[0] : furthest(points[first], points[first - 1], all_hold);
    const bool at_end = last + 1 == points.size();
    out.push_back(
        {cell, {low}, {at_end ? points[last] : furthest(points[last], points[last + 1], all_hold)}});
  }
  return out;
}

/// Those that overlap or touch are one.
std::vector<SettingWindow> united(std::vector<SettingWindow> windows) {
  std::sort(windows.begin(), windows.end(), [](const SettingWindow& a, const SettingWindow& b) {
    return a.from.at != b.from.at ? a.from.at < b.from.at : !a.from.open && b.from.open;
  });
  std::vector<SettingWindow> out;
  for (const SettingWindow& window : windows) {
    const bool apart = out.empty() || out.back().to.at < window.from.at ||
                       (out.back().to.at == window.from.at && out.back().to.open && window.from.open);
    if (apart)
      out.push_back(window);
    else if (outdoes(window.to, out.back().to, true, false))
      out.back().to = window.to;
  }
  return out;
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

/// Those that follow each other are one.
std::vector<SettingRun> joined(std::vector<SettingRun> runs) {
  std::sort(runs.begin(), runs.end(),
            [](const SettingRun& a, const SettingRun& b) { return a.first < b.first; });
  std::vector<SettingRun> out;
  for (const SettingRun& run : runs) {
    if (!out.empty() && out.back().last + 1 == run.first)
      out.back().last = run.last;
    else
      out.push_back(run);
  }
  return out;
}

/// None of those tried fits for sure: the settings that do where the limits say so.
void follow_in_steps(Bench& bench, const Variables& variables, const Slacks& slacks, const Knob& knob,
                     Outcome& outcome) {
  follow(bench, variables, slacks, knob.variable, outcome);
  const std::vector<SettingWindow> windows(outcome.settings.begin(), outcome.settings.end());
  outcome.settings.edit().clear();
  for (const SettingWindow& window : windows) {
    auto [first, end] = knob.settings.within(ExactInterval::of(window.from.at, window.to.at));
    if (first < end && !window.holds(knob.settings[first])) ++first;
    if (first < end && !window.holds(knob.settings[end - 1])) --end;
    if (first < end) take_runs(knob.cell, knob.settings, {SettingRun{first, end - 1}}, outcome);
  }
}

}  // namespace

void try_settings(Bench& bench, const Claim& claim, const Variables& variables, Search& search,
                  const Inspection& inspected, Outcome& outcome) {
  std::vector<Knob> knobs = knobs_of(bench, variables, inspected);
  if (knobs.size() == 1 && knobs[0].settings.empty()) {
    follow(bench, variables, inspected.slacks, knobs[0].variable, outcome);
    if (!outcome.settings.empty() && test_decides(bench, claim)) return;
    // a condition may spare more settings than the test lets through
    std::vector<SettingWindow> windows =
        sampled(bench, claim, variables, knobs[0].variable, search, inspected, false);
    if (windows.empty() && outcome.settings.empty() && inspected.hangs_together())
      windows = sampled(bench, claim, variables, knobs[0].variable, search, inspected, true);
    windows.insert(windows.end(), outcome.settings.begin(), outcome.settings.end());
    outcome.settings = united(std::move(windows));
    return;
  }
  std::erase_if(knobs, [](const Knob& knob) { return knob.settings.empty(); });
  if (knobs.empty()) return;
  KeptRanges kept(bench, variables);
  const Found found = SettingSearch(bench, claim, variables, search, inspected, knobs).run();
  kept.restore();
  if (!found.differ() && !bench.spent()) {
    outcome.verdict = found.any_holds ? Verdict::fits : Verdict::conflict;
    outcome.split = true;
    return;
  }
  if (found.one_by_one && !found.may_pass) {  // it fails or has no value, whatever is set
    outcome.verdict = Verdict::unknown;
    return;
  }
  if (knobs.size() != 1) return;
  take_runs(knobs[0].cell, knobs[0].settings, joined(found.runs), outcome);
  if (outcome.settings.empty() && found.any_open)
    follow_in_steps(bench, variables, inspected.slacks, knobs[0], outcome);
}

}  // namespace mm

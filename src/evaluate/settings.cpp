// Settings.
//
// A value that the builder sets in steps, from a list or by adding pieces is not a range: a gap between two
// steps may be where the requirement would fit. So few settings are tried one by one. Of many a stretch is
// looked at as a whole, and cut in two where it neither fits nor fails: the settings near a limit are tried
// alone, those far from it never. A value that is set without steps is followed to where the requirement
// begins to fit (limits.cpp).
#include "evaluate/settings.hpp"

#include <algorithm>
#include <deque>

#include "evaluate/limits.hpp"
#include "evaluate/setting_list.hpp"

namespace mm {

namespace {

constexpr std::size_t most_tried = 64;     // one by one
constexpr std::size_t most_looks = 1'024;  // at stretches of settings
constexpr std::size_t enough_looks = 128;  // that tell nothing

struct Knob {
  std::size_t variable = 0;
  CellId cell;
  SettingList settings;  // empty: any value of its range
};

std::vector<Knob> knobs_of(const Bench& bench, const Variables& variables, const Inspection& inspected) {
  std::vector<Knob> knobs;
  for (std::size_t v = 0; v < variables.size(); ++v) {
    if (variables[v].adjustable && inspected.matters(v))
      knobs.push_back({v, variables[v].cell, SettingList(bench.index, variables[v].cell)});
  }
  return knobs;
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

template <class Settings>
void take_runs(CellId cell, const Settings& settings, const std::vector<Run>& runs, Outcome& outcome) {
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

/// What the settings of all knobs together come to.
struct Found {
  bool any_holds = false, any_fails = false, any_open = false;
  std::vector<Run> runs;  // of one knob: those that hold, ascending

  void take(Verdict verdict, const Run& run) {
    any_fails = any_fails || verdict == Verdict::conflict;
    any_open = any_open || verdict == Verdict::unknown;
    if (!holds(verdict)) return;
    any_holds = true;
    runs.push_back(run);
  }
  bool differ() const { return any_open || (any_holds && any_fails); }
};

using Stretch = std::vector<Run>;  // of each knob, from its first to its last

/// The longest side in two; false where every side is one setting.
bool cut(const Stretch& stretch, std::deque<Stretch>& todo) {
  const auto longest = std::max_element(stretch.begin(), stretch.end(), [](const Run& a, const Run& b) {
    return a.last - a.first < b.last - b.first;
  });
  if (longest->first == longest->last) return false;
  const auto side = static_cast<std::size_t>(longest - stretch.begin());
  const std::size_t middle = longest->first + (longest->last - longest->first) / 2;
  todo.push_back(stretch);
  todo.back()[side].last = middle;
  todo.push_back(stretch);
  todo.back()[side].first = middle + 1;
  return true;
}

/// Long stretches first. What is not settled by then counts as open. Of several knobs it ends where two of
/// their settings differ: no window is read off.
Found try_stretches(Bench& bench, const Claim& claim, const Variables& variables, Search& search,
                    const std::vector<Knob>& knobs) {
  Found found;
  std::deque<Stretch> todo(1);
  std::size_t together = 1;
  for (const Knob& knob : knobs) {
    todo[0].push_back({0, knob.settings.size() - 1});
    together = std::min(together * knob.settings.size(), most_tried + 1);
  }
  const bool each = together <= most_tried;
  for (std::size_t looks = 0; !todo.empty();) {
    const Stretch stretch = std::move(todo.front());
    todo.pop_front();
    if (each && cut(stretch, todo)) continue;
    const bool told = found.any_holds || found.any_fails;
    if (++looks > (told ? most_looks : enough_looks) || bench.spent()) {
      found.any_open = true;
      break;
    }
    for (std::size_t k = 0; k < knobs.size(); ++k) {
      const SettingList& settings = knobs[k].settings;
      bench.box.narrow_exact(knobs[k].cell,
                             ExactInterval::of(settings[stretch[k].first], settings[stretch[k].last]));
    }
    const Verdict verdict = search.glance(claim, variables);
    if (verdict == Verdict::unknown && cut(stretch, todo)) continue;
    found.take(verdict, stretch[0]);
    if (knobs.size() > 1 && found.differ()) break;
  }
  return found;
}

/// Those that follow each other are one.
std::vector<Run> joined(std::vector<Run> runs) {
  std::sort(runs.begin(), runs.end(), [](const Run& a, const Run& b) { return a.first < b.first; });
  std::vector<Run> out;
  for (const Run& run : runs) {
    if (!out.empty() && out.back().last + 1 == run.first)
      out.back().last = run.last;
    else
      out.push_back(run);
  }
  return out;
}

}  // namespace

void try_settings(Bench& bench, const Claim& claim, const Variables& variables, Search& search,
                  const Inspection& inspected, Outcome& outcome) {
  std::vector<Knob> knobs = knobs_of(bench, variables, inspected);
  if (knobs.size() == 1 && knobs[0].settings.empty()) {
    follow(bench, variables, inspected.slacks, knobs[0].variable, outcome);
    if (outcome.settings.empty()) sample(bench, claim, variables, knobs[0].variable, search, outcome);
    return;
  }
  std::erase_if(knobs, [](const Knob& knob) { return knob.settings.empty(); });
  if (knobs.empty()) return;
  KeptRanges kept(bench, variables);
  const Found found = try_stretches(bench, claim, variables, search, knobs);
  kept.restore();
  if (!found.differ() && !bench.spent()) {
    outcome.verdict = found.any_holds ? Verdict::fits : Verdict::conflict;
    outcome.split = true;
    return;
  }
  if (knobs.size() == 1) take_runs(knobs[0].cell, knobs[0].settings, joined(found.runs), outcome);
}

}  // namespace mm

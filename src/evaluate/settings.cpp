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
#include <deque>

#include "evaluate/limits.hpp"
#include "evaluate/setting_list.hpp"

namespace mm {

namespace {

constexpr std::size_t most_tried = 64;     // one by one
constexpr std::size_t most_looks = 1'024;  // at stretches of settings
constexpr std::size_t enough_looks = 128;  // once settings differ, for where they begin to fit
constexpr std::size_t probes = 4;          // pieces between single settings that are tried first

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
            const Inspection& inspected, Outcome& outcome) {
  const CellId cell = variables[v].cell;
  const ExactInterval range = bench.box.exact(cell);
  if (range.empty || range.lo_infinite || range.hi_infinite) return;
  KeptRanges kept(bench, variables);
  const auto verdict_at = [&](const ExactInterval& settings) {
    bench.box.narrow_exact(cell, settings);
    return search.glance_within(claim, variables, inspected);
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

/// Settings of some knobs, tried in one claim.
class SettingSearch {
 public:
  SettingSearch(Bench& bench, const Claim& claim, const Variables& variables, Search& search,
                const Inspection& inspected, const std::vector<Knob>& knobs)
      : bench_(bench),
        claim_(claim),
        variables_(variables),
        search_(search),
        inspected_(inspected),
        knobs_(knobs) {
    for (const Knob& knob : knobs) {
      whole_.push_back({0, knob.settings.size() - 1});
      together_ = std::min(together_ * knob.settings.size(), most_tried + 1);
    }
  }

  Found run() {
    if (together_ <= most_tried) {
      cut_up(true);
      return std::move(found_);
    }
    const std::vector<Verdict> probed = probe();
    found_.runs.clear();
    if (!found_.differ())
      cut_up(false);
    else if (knobs_.size() == 1)
      widen(probed);
    return std::move(found_);
  }

 private:
  Verdict look(const Stretch& stretch) {
    for (std::size_t k = 0; k < knobs_.size(); ++k) {
      const SettingList& settings = knobs_[k].settings;
      bench_.box.narrow_exact(knobs_[k].cell,
                              ExactInterval::of(settings[stretch[k].first], settings[stretch[k].last]));
    }
    return bench_.spent() ? Verdict::unknown : search_.glance_within(claim_, variables_, inspected_);
  }
  bool all_hold(std::size_t first, std::size_t last) { return holds(look({Run{first, last}})); }

  std::size_t probe_at(std::size_t knob, std::size_t i) const { return whole_[knob].last * i / probes; }

  /// A few single settings: where two of them differ, the rest cannot make all agree.
  std::vector<Verdict> probe() {
    std::vector<Verdict> out;
    for (std::size_t i = 0; i <= probes; ++i) {
      Stretch point;
      for (std::size_t k = 0; k < knobs_.size(); ++k) point.push_back({probe_at(k, i), probe_at(k, i)});
      out.push_back(look(point));
      found_.take(out.back(), point[0]);
      if (knobs_.size() > 1 && found_.differ()) break;
    }
    return out;
  }

  /// From the probes that hold on to those that just do, where what lies between is well-behaved.
  void widen(const std::vector<Verdict>& probed) {
    for (auto [first, last] : runs_that_hold(probed)) {
      while (last > first && !all_hold(probe_at(0, first), probe_at(0, last))) --last;
      Run run{probe_at(0, first), probe_at(0, last)};
      std::size_t beyond = last == probes ? run.last + 1 : probe_at(0, last + 1);
      while (beyond - run.last > 1) {
        const std::size_t middle = run.last + (beyond - run.last) / 2;
        (all_hold(run.last, middle) ? run.last : beyond) = middle;
      }
      std::size_t below = first == 0 ? 0 : probe_at(0, first - 1);
      while (run.first - below > 1) {
        const std::size_t middle = below + (run.first - below) / 2;
        (all_hold(middle, run.first) ? run.first : below) = middle;
      }
      found_.runs.push_back(run);
    }
  }

  /// Long stretches first, and `each` setting by itself where that is wanted. What is not settled by then
  /// counts as open. Of several knobs it ends where two of their settings differ: no window is read off.
  void cut_up(bool each) {
    std::deque<Stretch> todo{whole_};
    std::size_t left = most_looks;
    while (!todo.empty()) {
      const Stretch stretch = std::move(todo.front());
      todo.pop_front();
      if (each && cut(stretch, todo)) continue;
      if (left-- == 0 || bench_.spent()) {
        found_.any_open = true;
        return;
      }
      const Verdict verdict = look(stretch);
      if (verdict == Verdict::unknown && cut(stretch, todo)) continue;
      const bool before = found_.differ();
      found_.take(verdict, stretch[0]);
      if (before || !found_.differ()) continue;
      if (knobs_.size() > 1) return;
      left = std::min(left, enough_looks);
    }
  }

  Bench& bench_;
  const Claim& claim_;
  const Variables& variables_;
  Search& search_;
  const Inspection& inspected_;
  const std::vector<Knob>& knobs_;
  Stretch whole_;
  std::size_t together_ = 1;
  Found found_;
};

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
    if (first < end) take_runs(knob.cell, knob.settings, {Run{first, end - 1}}, outcome);
  }
}

}  // namespace

void try_settings(Bench& bench, const Claim& claim, const Variables& variables, Search& search,
                  const Inspection& inspected, Outcome& outcome) {
  std::vector<Knob> knobs = knobs_of(bench, variables, inspected);
  if (knobs.size() == 1 && knobs[0].settings.empty()) {
    follow(bench, variables, inspected.slacks, knobs[0].variable, outcome);
    if (outcome.settings.empty())
      sample(bench, claim, variables, knobs[0].variable, search, inspected, outcome);
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
  if (knobs.size() != 1) return;
  take_runs(knobs[0].cell, knobs[0].settings, joined(found.runs), outcome);
  if (outcome.settings.empty() && found.any_open)
    follow_in_steps(bench, variables, inspected.slacks, knobs[0], outcome);
}

}  // namespace mm

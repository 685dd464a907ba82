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

struct Knob {
  std::size_t variable = 0;
  std::vector<Rational> settings;  // ascending; empty: any value of its range
};

/// The settings in ascending order; empty where there is no step, or more of them than are tried.
std::vector<Rational> settings_of(const Bench& bench, const Variable& variable) {
  const Cell& cell = bench.index.build.cells[variable.cell];
  const Given& given = bench.index.build.givens[cell.given];
  if (!given.settings.empty()) return given.settings;
  const ExactInterval& range = bench.index.exact(variable.cell);
  std::optional<Rational> step = given.step;
  if (!step && variable.integer) step = 1;
  if (!step || range.empty || range.lo_infinite || range.hi_infinite) return {};
  if ((range.hi_value - range.lo_value) / *step > Rational(static_cast<unsigned long>(most_settings)))
    return {};
  std::vector<Rational> out;
  for (Rational at = range.lo_value; at <= range.hi_value; at += *step) out.push_back(at);
  return out;
}

/// The adjustable values that an open comparison moves with. Another claim's search may have been here
/// before.
std::vector<Knob> knobs_of(Bench& bench, const Claim& claim, const Variables& variables, Search& search) {
  search.glance(claim, variables);
  std::vector<Knob> knobs;
  for (std::size_t v = 0; v < variables.size(); ++v) {
    const auto& leaves = search.tightener().leaves();
    const bool matters =
        variables[v].adjustable && std::any_of(leaves.begin(), leaves.end(), [&](const Leaf& leaf) {
          return !is_single(leaf.bits) && leaf.moves[v] != still;
        });
    if (matters) knobs.push_back({v, settings_of(bench, variables[v])});
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

/// A value that is set without steps, alone: where the requirement surely fits.
void follow(Bench& bench, const Claim& claim, const Variables& variables, std::size_t v, Outcome& outcome) {
  Slacks slacks;
  if (!slacks.take(bench, claim, variables)) return;
  const Limits limits = find_limits(bench, variables, slacks, v, true);
  if (!limits.fits_from && !limits.fits_to) return;
  const ExactInterval range = bench.box.exact(variables[v].cell);
  SettingWindow window;
  window.cell = variables[v].cell;
  window.from = limits.fits_from ? *limits.fits_from : range.lo_value;
  window.to = limits.fits_to ? *limits.fits_to : range.hi_value;
  if (window.from <= window.to) outcome.settings = window;
}

}  // namespace

void try_settings(Bench& bench, const Claim& claim, const Variables& variables, Search& search,
                  Outcome& outcome) {
  std::vector<Knob> knobs = knobs_of(bench, claim, variables, search);
  if (knobs.size() == 1 && knobs[0].settings.empty())
    return follow(bench, claim, variables, knobs[0].variable, outcome);
  std::erase_if(knobs, [](const Knob& knob) { return knob.settings.empty(); });
  std::size_t together = 1;
  for (const Knob& knob : knobs) together = std::min(together * knob.settings.size(), most_settings + 1);
  if (knobs.empty() || together > most_settings) return;
  const KeptRanges kept(bench, variables);
  std::vector<std::size_t> at(knobs.size(), 0);
  bool all_fit = true, all_fail = true;
  std::vector<bool> fit;
  do {
    for (std::size_t k = 0; k < knobs.size(); ++k)
      bench.box.narrow_exact(variables[knobs[k].variable].cell,
                             ExactInterval::point(knobs[k].settings[at[k]]));
    const Verdict verdict = search.glance(claim, variables);
    if (bench.spent()) return;
    fit.push_back(verdict == Verdict::fits || verdict == Verdict::not_applicable);
    all_fit = all_fit && fit.back();
    all_fail = all_fail && verdict == Verdict::conflict;
  } while (turn(knobs, at));
  if (all_fit || all_fail) {
    outcome.verdict = all_fit ? Verdict::fits : Verdict::conflict;
    outcome.split = true;
    return;
  }
  const auto first = std::find(fit.begin(), fit.end(), true);
  const auto last = std::find(first, fit.end(), false);
  if (knobs.size() != 1 || first == fit.end() || std::find(last, fit.end(), true) != fit.end()) return;
  outcome.settings = {variables[knobs[0].variable].cell,
                      knobs[0].settings[static_cast<std::size_t>(first - fit.begin())],
                      knobs[0].settings[static_cast<std::size_t>(last - fit.begin()) - 1]};
}

}  // namespace mm

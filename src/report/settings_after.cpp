#include "report/settings_after.hpp"

#include <algorithm>

namespace mm {

namespace {

bool same_settings(const Outcome& a, const Outcome& b) {
  return std::equal(a.settings.begin(), a.settings.end(), b.settings.begin(), b.settings.end(),
                    [](const SettingWindow& one, const SettingWindow& other) {
                      return one.cell == other.cell && one.from == other.from && one.to == other.to;
                    });
}

bool differ(const Outcome& a, const Outcome& b) {
  return a.verdict == Verdict::setting && b.verdict == Verdict::setting && !same_settings(a, b);
}

/// `with` is `without` and this rework done too.
bool adds(const Case& without, const Case& with, std::uint32_t rework) {
  std::vector<std::uint32_t> both(without.reworks.begin(), without.reworks.end());
  if (std::find(both.begin(), both.end(), rework) != both.end()) return false;
  both.push_back(rework);
  return without.choices == with.choices &&
         std::is_permutation(both.begin(), both.end(), with.reworks.begin(), with.reworks.end());
}

}  // namespace

const Outcome* settings_after(const Finding& finding, const Summary& summary) {
  for (const Option& option : summary.options) {
    if (option.now != summary.shown_case || option.after == option.now) continue;
    const Outcome& after = finding.cases[option.after].outcome;
    return differ(finding.cases[option.now].outcome, after) ? &after : nullptr;
  }
  return nullptr;
}

bool sets_otherwise(const Finding& finding, std::uint32_t rework) {
  if (std::find(finding.reworks.begin(), finding.reworks.end(), rework) == finding.reworks.end())
    return false;
  for (const Case& without : finding.cases)
    for (const Case& with : finding.cases)
      if (adds(without, with, rework) && differ(without.outcome, with.outcome)) return true;
  return false;
}

}  // namespace mm

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

/// Of the same candidates: `with` is `without` and this rework done too.
bool adds(const Case& without, const Case& with, std::uint32_t rework) {
  std::vector<std::uint32_t> both(without.reworks.begin(), without.reworks.end());
  if (std::find(both.begin(), both.end(), rework) != both.end()) return false;
  both.push_back(rework);
  return std::is_permutation(both.begin(), both.end(), with.reworks.begin(), with.reworks.end());
}

}  // namespace

const Outcome* settings_after(const Finding& finding, const Option& option) {
  if (option.after == option.now) return nullptr;
  const Outcome& after = finding.cases[option.after].outcome;
  return differ(finding.cases[option.now].outcome, after) ? &after : nullptr;
}

bool sets_otherwise(const Finding& finding, const Summary& summary, std::uint32_t rework) {
  const auto& cases = finding.cases;
  for (const Option& option : summary.options)
    for (const std::size_t without : option.cases)
      for (const std::size_t with : option.cases)
        if (adds(cases[without], cases[with], rework) && differ(cases[without].outcome, cases[with].outcome))
          return true;
  return false;
}

}  // namespace mm

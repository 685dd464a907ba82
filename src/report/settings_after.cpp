#include "report/settings_after.hpp"

#include <algorithm>

#include "report/values.hpp"

namespace mm {

namespace {

bool same_settings(const Scene& scene, const Outcome& a, const Outcome& b) {
  return std::equal(a.settings.begin(), a.settings.end(), b.settings.begin(), b.settings.end(),
                    [&](const SettingWindow& one, const SettingWindow& other) {
                      return one.from == other.from && one.to == other.to &&
                             same_value(scene, one.cell, other.cell);
                    });
}

/// Of the same candidates: `with` is `without` and this rework done too.
bool adds(const Case& without, const Case& with, std::uint32_t rework) {
  std::vector<std::uint32_t> both(without.reworks.begin(), without.reworks.end());
  if (std::find(both.begin(), both.end(), rework) != both.end()) return false;
  both.push_back(rework);
  return std::is_permutation(both.begin(), both.end(), with.reworks.begin(), with.reworks.end());
}

}  // namespace

bool differ_in_settings(const Scene& scene, const Outcome& a, const Outcome& b) {
  return a.verdict == Verdict::setting && b.verdict == Verdict::setting && !same_settings(scene, a, b);
}

bool is_set_somewhere(const Finding& finding, const Summary& summary) {
  if (summary.options.empty()) return summary.word == Word::setting;
  return std::any_of(summary.options.begin(), summary.options.end(), [&](const Option& option) {
    const Verdict now = finding.cases[option.now].outcome.verdict;
    const Verdict then = finding.cases[option.after].outcome.verdict;
    return then == Verdict::setting || (now == Verdict::setting && !passes(then));
  });
}

bool sets_otherwise(const Scene& scene, const Finding& finding, const Summary& summary,
                    std::uint32_t rework) {
  const auto& cases = finding.cases;
  for (const Option& option : summary.options)
    for (const std::size_t without : option.cases)
      for (const std::size_t with : option.cases)
        if (adds(cases[without], cases[with], rework) &&
            differ_in_settings(scene, cases[without].outcome, cases[with].outcome))
          return true;
  return false;
}

}  // namespace mm

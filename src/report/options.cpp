#include "report/options.hpp"

#include <algorithm>
#include <cmath>

#include "report/page.hpp"
#include "report/phrases.hpp"

namespace mm {

namespace {

constexpr std::size_t most_told = 4;   // different texts
constexpr std::size_t most_named = 3;  // candidates of one text

}  // namespace

std::string with_candidates(const std::vector<std::string>& names) {
  if (names.size() > most_named) return "with " + std::to_string(names.size()) + " of the choices";
  return "with " + listed(names, " or ");
}

std::size_t shown_case_of(const Summary& summary, const Option& option) {
  const bool later = std::any_of(summary.options.begin(), summary.options.end(), [&](const Option& o) {
    return o.after == summary.shown_case && o.now != summary.shown_case;
  });
  return later ? option.after : option.now;
}

double least_miss(const Outcome& outcome, double unknown) {
  return outcome.margin && !outcome.margin->is_empty() ? -outcome.margin->hi : unknown;
}

std::string option_name(const Scene& scene, const Option& option, std::string_view last) {
  std::vector<std::string> names;
  for (const auto& [fit, candidate] : option.choices) names.push_back(candidate_name(scene, fit, candidate));
  return listed(names, last);
}

std::pair<std::string, bool> told_apart(const Scene& scene, const Summary& summary, const OptionText& text) {
  struct Told {
    std::string text;
    std::vector<std::string> names;
  };
  if (summary.options.empty()) return {text({}, summary.shown_case), false};
  std::vector<Told> told;
  for (const Option& option : summary.options) {
    std::string its = text(option, shown_case_of(summary, option));
    if (its.empty()) continue;
    auto at = std::find_if(told.begin(), told.end(), [&](const Told& t) { return t.text == its; });
    if (at == told.end()) at = told.insert(told.end(), {std::move(its), {}});
    at->names.push_back(option_name(scene, option));
  }
  if (told.empty()) return {};
  if (told.size() == 1) return {told[0].text, false};
  std::string out;
  for (std::size_t i = 0; i < told.size() && i < most_told; ++i)
    out += (i == 0 ? "" : "; ") + told[i].text + " " + with_candidates(told[i].names);
  if (told.size() > most_told) out += "; and " + std::to_string(told.size() - most_told) + " more";
  return {std::move(out), true};
}

std::string by_option(const Scene& scene, const Summary& summary, const OptionText& text) {
  return told_apart(scene, summary, text).first;
}

std::string only_after(const Summary& summary, Word word) {
  std::string out;
  for (const Option& option : summary.options) {
    if (option.word != word) continue;
    const auto at = option.text.find(" after ");
    const std::string told =
        option.fits_today() && at != std::string::npos ? "," + option.text.substr(at) : "";
    if (told.empty() || (!out.empty() && out != told)) return {};
    out = told;
  }
  return out;
}

std::string only_with(const Scene& scene, const Summary& summary, Word word) {
  std::vector<std::string> names;
  for (const Option& option : summary.options)
    if (option.word == word && !option.choices.empty()) names.push_back(option_name(scene, option));
  if (names.empty() || names.size() == summary.options.size()) return {};
  return ", " + with_candidates(names);
}

std::string least_margin(const Scene& scene, const Summary& summary) {
  const Finding& finding = scene.results.findings[summary.finding];
  const RequirementDef& requirement = scene.requirement(finding);
  if (finding.cases.empty()) return {};
  const Outcome& shown = finding.cases[summary.shown_case].outcome;
  Outcome least;
  least.verdict = shown.verdict;
  least.reads = shown.reads;
  least.margin = shown.margin;
  bool differ = false;
  for (const Option& option : summary.options) {
    const Outcome& outcome = finding.cases[shown_case_of(summary, option)].outcome;
    if (outcome.verdict == Verdict::not_applicable && shown.verdict == Verdict::fits) continue;
    if (outcome.verdict != shown.verdict || !outcome.margin || !least.margin) return {};
    if (outcome.margin->neg_lo == least.margin->neg_lo && outcome.margin->hi == least.margin->hi) continue;
    differ = true;
    // the one that is known badly in either way: least to spare, and least surely missed
    least.margin->neg_lo = std::max(least.margin->neg_lo, outcome.margin->neg_lo);
    least.margin->hi = std::max(least.margin->hi, outcome.margin->hi);
  }
  std::string text = margin_text(scene, requirement, least);
  if (!differ || text.empty() || text.find("at least") != std::string::npos) return text;
  if (text.starts_with("misses by ")) return "misses by at least " + text.substr(10);
  return text;
}

const Option* nearest_option(const Scene& scene, const Summary& summary) {
  const Finding& finding = scene.results.findings[summary.finding];
  const auto miss = [&](const Option& option) {
    return least_miss(finding.cases[shown_case_of(summary, option)].outcome, HUGE_VAL);
  };
  const auto nearest = std::min_element(summary.options.begin(), summary.options.end(),
                                        [&](const Option& a, const Option& b) { return miss(a) < miss(b); });
  const bool alike = std::all_of(summary.options.begin(), summary.options.end(),
                                 [&](const Option& o) { return miss(o) == miss(*nearest); });
  return alike ? nullptr : &*nearest;
}

}  // namespace mm

#include "report/summary.hpp"

#include <algorithm>
#include <map>

#include "evaluate/cases.hpp"
#include "report/page.hpp"
#include "report/summary_planned.hpp"

namespace mm {

namespace {

static_assert(sizeof(Summary) == 32);  // several walks over all of them

bool is_pass(Word word) { return word == Word::fits || word == Word::not_applicable; }

bool same_word(Word a, Word b) { return a == b || (is_pass(a) && is_pass(b)); }

/// One word for all candidates where they agree; candidates that merely pass in two ways agree.
void combine_options(const Finding& finding, Summary& out) {
  const Option* shown = &out.options[0];  // of those that pass, the one that is known worst
  bool differ = false, mild = true;
  const auto grade_of = [&](const Option& option) {
    const Outcome& outcome = finding.cases[option.now].outcome;
    return outcome.read_any ? outcome.evidence : Grade::measured;
  };
  for (const Option& option : out.options) {
    mild = mild && (is_pass(option.word) || option.word == Word::caution);
    differ = differ || !same_standing(option, out.options[0]);
    if (shown->word == Word::not_applicable && is_pass(option.word)) shown = &option;
    if (shown->word == Word::fits && option.word == Word::fits && grade_of(option) > grade_of(*shown))
      shown = &option;
    if (mild && option.word == Word::caution) shown = &option;
  }
  out.word = differ && !mild ? Word::choice : shown->word;
  out.said = differ && !mild ? "depends on the choice" : shown->text.c_str();
  const bool comes_with_work =
      (shown->word == Word::caution || shown->word == Word::needs_also) && shown->fits_today();
  out.shown_case = static_cast<std::uint32_t>(comes_with_work ? shown->after : shown->now);
}

void apply_waiver(const Scene& scene, const Finding& finding, Summary& summary) {
  if (finding.waiver >= scene.build.waivers.size()) return;
  summary.waiver_expired = scene.build.waivers[finding.waiver].expired(scene.today);
  summary.waived =
      !summary.waiver_expired && summary.word != Word::fits && summary.word != Word::not_applicable;
}

}  // namespace

bool same_standing(const Option& a, const Option& b) {
  return same_word(a.word, b.word) && same_word(a.today, b.today);
}

std::string_view word_name(Word word) {
  static constexpr std::array<std::string_view, word_count> names = {
      "not_applicable", "fits",    "caution", "setting",    "unknown",
      "choice",         "pending", "breaks",  "needs_also", "conflict"};
  return names[static_cast<std::size_t>(word)];
}

Word case_word(Verdict verdict, Weight weight) {
  switch (verdict) {
    case Verdict::not_applicable:
      return Word::not_applicable;
    case Verdict::fits:
      return Word::fits;
    case Verdict::setting:
      return Word::setting;
    case Verdict::choice:
      return Word::choice;
    case Verdict::unknown:
      return Word::unknown;
    case Verdict::conflict:
      break;
  }
  return weight == Weight::caution ? Word::caution
         : weight == Weight::also  ? Word::needs_also
                                   : Word::conflict;
}

Summary summarize(const Scene& scene, std::size_t index) {
  const Finding& finding = scene.results.findings[index];
  Summary out;
  out.finding = static_cast<std::uint32_t>(index);
  out.weight = scene.requirement(finding).weight;
  out.hazard = scene.requirement(finding).hazard;
  if (finding.cases.size() == 1 && finding.cases[0].choices.empty()) {
    const Outcome& outcome = finding.cases[0].outcome;
    out.word = case_word(outcome.verdict, out.weight);
    out.said = plain_text(out.word, out.weight, outcome);
    apply_waiver(scene, finding, out);
    return out;
  }
  std::map<std::vector<std::pair<std::uint32_t, std::uint32_t>>, std::size_t> by_choice;
  for (std::size_t c = 0; c < finding.cases.size(); ++c) {
    const auto [at, added] = by_choice.emplace(finding.cases[c].choices, out.options.size());
    if (added) out.options.push_back({finding.cases[c].choices, Word::unknown, {}, 0, 0, {}});
    out.options.edit()[at->second].cases.push_back(c);
  }
  for (Option& option : out.options.edit()) judge_reworks(scene, finding, out.weight, option);
  if (out.options.empty()) return out;
  combine_options(finding, out);
  if (out.options.size() < combinations_of(scene.build, finding)) {
    out.partly = true;  // what was not tried may be otherwise
    if (out.word != Word::choice) {
      out.word = Word::unknown;
      out.said = "unknown: not all of the choices were tried";
    }
  }
  // the numbers shown are of the state that the word speaks of
  const Option& first = out.options[0];
  const bool later =
      out.word == Word::breaks ||
      (out.word == Word::unknown && finding.cases[first.now].outcome.verdict != Verdict::unknown) ||
      (out.word == Word::setting && finding.cases[first.now].outcome.verdict != Verdict::setting);
  if (later) out.shown_case = static_cast<std::uint32_t>(first.after);
  apply_waiver(scene, finding, out);
  return out;
}

Summaries summarize_all(const Scene& scene) {
  Summaries out;
  for (std::size_t i = 0; i < scene.results.findings.size(); ++i) out.push_back(summarize(scene, i));
  return out;
}

std::size_t Totals::judged() const {
  std::size_t sum = 0;
  for (std::size_t i = 1; i < word_count; ++i) sum += words[i];
  return sum;
}

Totals count_words(const Summaries& summaries, const Results& results) {
  Totals totals;
  for (const Summary& summary : summaries) {
    ++totals.words[static_cast<std::size_t>(summary.word)];
    ++(summary.waived ? totals.waived : totals.told[static_cast<std::size_t>(summary.word)]);
    if (summary.word == Word::pending && !summary.waived && summary.options[0].fits_today())
      ++totals.half_way;
    if (summary.word != Word::fits || summary.waived || results.findings[summary.finding].cases.empty())
      continue;
    const Outcome& outcome = results.findings[summary.finding].cases[summary.shown_case].outcome;
    if (outcome.read_any && outcome.evidence >= Grade::claimed) ++totals.weak_fits;
  }
  return totals;
}

Word graph_word_if_chosen(GraphFinding::What what) { return case_word(verdict_of(what), Weight::need); }

Word graph_word(const GraphFinding& graph) {
  return graph.by_choice ? Word::choice : graph_word_if_chosen(graph.what);
}

}  // namespace mm

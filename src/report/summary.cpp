#include "report/summary.hpp"

#include <algorithm>
#include <bit>
#include <map>

#include "evaluate/cases.hpp"
#include "report/page.hpp"

namespace mm {

namespace {

bool passes(Verdict verdict) { return verdict == Verdict::fits || verdict == Verdict::not_applicable; }

/// Bit i: finding.reworks[i] is applied.
std::uint32_t mask_of(const Finding& finding, const Case& c) {
  std::uint32_t mask = 0;
  for (std::size_t i = 0; i < finding.reworks.size(); ++i)
    if (std::find(c.reworks.begin(), c.reworks.end(), finding.reworks[i]) != c.reworks.end()) mask |= 1U << i;
  return mask;
}

using Masks = std::vector<std::uint32_t>;

std::vector<std::uint32_t> reworks_in(const Finding& finding, std::uint32_t mask) {
  std::vector<std::uint32_t> out;
  for (std::size_t i = 0; i < finding.reworks.size(); ++i)
    if ((mask >> i & 1U) != 0) out.push_back(finding.reworks[i]);
  return out;
}

/// "O1", "O1 and O2", "O1 or after O2"
std::string masks_text(const Scene& scene, const Finding& finding, const Masks& masks) {
  std::vector<std::string> sets;
  for (const std::uint32_t mask : masks) {
    std::vector<std::string> names;
    for (const std::uint32_t rework : reworks_in(finding, mask))
      names.push_back(scene.text(scene.build.reworks[rework].name));
    sets.push_back(listed(names));
  }
  return listed(sets, " or after ");
}

/// The sets of reworks with a case that `wanted` accepts and no smaller one within them; fewest first.
template <class Wanted>
Masks least_masks(const std::map<std::uint32_t, std::size_t>& by_mask, const Finding& finding,
                  Wanted wanted) {
  Masks out;
  for (const auto& [mask, index] : by_mask)
    if (mask != 0 && wanted(finding.cases[index].outcome.verdict)) out.push_back(mask);
  std::stable_sort(out.begin(), out.end(),
                   [](std::uint32_t a, std::uint32_t b) { return std::popcount(a) < std::popcount(b); });
  Masks least;
  for (const std::uint32_t mask : out)
    if (std::none_of(least.begin(), least.end(), [&](std::uint32_t m) { return (m & mask) == m; }))
      least.push_back(mask);
  return least;
}

std::string plain_text(Word word, Weight weight, const Outcome& outcome) {
  switch (word) {
    case Word::not_applicable:
      return "does not apply";
    case Word::fits:
      if (!outcome.read_any || outcome.evidence < Grade::claimed) return "fits";
      if (outcome.evidence == Grade::hearsay) return "fits, on hearsay";
      return outcome.evidence == Grade::claimed ? "fits, on a claim"
                                                : "fits, on values with no evidence stated";
    case Word::caution:
      return "caution";
    case Word::setting:
      return "depends on the setting";
    case Word::choice:
      return "depends on the choice";
    case Word::needs_also:
      return "needs also";
    case Word::conflict:
      return weight == Weight::should ? "conflict (should)" : "conflict";
    default:
      return "unknown";
  }
}

/// Word and text of one candidate combination over the subsets of planned reworks.
void judge_reworks(const Scene& scene, const Finding& finding, Weight weight, Option& option) {
  std::map<std::uint32_t, std::size_t> by_mask;
  for (const std::size_t c : option.cases) by_mask.emplace(mask_of(finding, finding.cases[c]), c);
  option.now = by_mask.begin()->second;
  option.after = by_mask.rbegin()->second;
  const std::uint32_t all = by_mask.rbegin()->first;
  const Outcome& now = finding.cases[option.now].outcome;
  const Outcome& after = finding.cases[option.after].outcome;
  const Word now_word = case_word(now.verdict, weight), after_word = case_word(after.verdict, weight);
  const bool same = std::all_of(option.cases.begin(), option.cases.end(), [&](std::size_t c) {
    return finding.cases[c].outcome.verdict == now.verdict;
  });
  option.word = now_word;
  option.text = plain_text(now_word, weight, now);
  if (same) return;
  const auto is = [](Verdict wanted) { return [wanted](Verdict v) { return v == wanted; }; };
  const auto at = [&](const Masks& masks) { return masks_text(scene, finding, masks); };
  const Masks fits_at = least_masks(by_mask, finding, passes);
  const Masks fails_at = least_masks(by_mask, finding, is(Verdict::conflict));
  const Masks surely_fits_at = least_masks(by_mask, finding, is(Verdict::fits));
  const Masks unsure_at =
      least_masks(by_mask, finding, [](Verdict v) { return !passes(v) && v != Verdict::conflict; });
  const std::string bad = plain_text(case_word(Verdict::conflict, weight), weight, now);
  const auto turn = [&](PlannedTurn::Kind kind, const Masks& masks) {
    for (const std::uint32_t mask : masks) option.turns.push_back({kind, reworks_in(finding, mask)});
  };
  using Kind = PlannedTurn::Kind;
  if (passes(after.verdict)) {
    option.word = Word::pending;
    if (passes(now.verdict)) {
      const bool always = fails_at.empty() && unsure_at.empty();
      if (always && now.verdict == Verdict::fits) {
        option.word = Word::fits;  // it merely stops to apply
        return;
      }
      // fits before and after, but perhaps not half-way: the order of work matters
      turn(Kind::settles, always ? surely_fits_at : Masks{all});
      option.text =
          always ? "fits after " + at(surely_fits_at)
                 : (fails_at.empty() ? "unknown after " + at(unsure_at) : bad + " after " + at(fails_at)) +
                       " alone; fits after " + at({all});
      return;
    }
    turn(Kind::settles, fits_at);
    const std::string before = now.verdict == Verdict::conflict ? "" : option.text + " now; ";
    option.text = before + "fits after " + at(fits_at);
    const bool at_once = fits_at.size() == 1 && fits_at[0] == all;
    if (!at_once && !fails_at.empty())
      option.text += now.verdict == Verdict::conflict
                         ? ", but still a conflict after " + at(fails_at) + " alone"
                         : ", but conflict after " + at(fails_at);
    return;
  }
  if (after.verdict == Verdict::conflict) {
    if (now.verdict == Verdict::conflict) {
      if (!fits_at.empty()) option.text += "; fits after " + at(fits_at) + " alone";
      return;
    }
    turn(Kind::breaks, fails_at);
    option.word = after_word == Word::conflict ? Word::breaks : after_word;
    option.text = bad + " after " + at(fails_at);
    if (!passes(now.verdict)) option.text = plain_text(now_word, weight, now) + " now; " + option.text;
    return;
  }
  if (now.verdict == Verdict::conflict) turn(Kind::may_settle, {all});
  if (passes(now.verdict)) turn(Kind::doubts, {all});
  option.word = after_word;
  option.text = plain_text(after_word, weight, after) + " after " + at({all});
  if (now_word != after_word) option.text = plain_text(now_word, weight, now) + " now; " + option.text;
}

bool is_pass(Word word) { return word == Word::fits || word == Word::not_applicable; }

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
    differ = differ || (option.word != shown->word && !(is_pass(option.word) && is_pass(shown->word)));
    if (shown->word == Word::not_applicable && is_pass(option.word)) shown = &option;
    if (shown->word == Word::fits && option.word == Word::fits && grade_of(option) > grade_of(*shown))
      shown = &option;
    if (mild && option.word == Word::caution) shown = &option;
  }
  out.word = differ && !mild ? Word::choice : shown->word;
  out.text = differ && !mild ? "depends on the choice" : shown->text;
  out.shown_case = static_cast<std::uint32_t>(shown->now);
}

void apply_waiver(const Scene& scene, const Finding& finding, Summary& summary) {
  if (finding.waiver >= scene.build.waivers.size()) return;
  const std::string& until = scene.build.waivers[finding.waiver].until;
  summary.waiver_expired = !scene.today.empty() && !until.empty() && until < scene.today;
  summary.waived =
      !summary.waiver_expired && summary.word != Word::fits && summary.word != Word::not_applicable;
}

}  // namespace

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
  if (finding.cases.size() == 1 && finding.cases[0].choices.empty()) {
    const Outcome& outcome = finding.cases[0].outcome;
    out.word = case_word(outcome.verdict, out.weight);
    out.text = plain_text(out.word, out.weight, outcome);
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
  if (out.options.empty()) {
    out.text = "unknown";
    return out;
  }
  combine_options(finding, out);
  if (out.options.size() < combinations_of(scene.build, finding)) {
    out.partly = true;  // what was not tried may be otherwise
    out.word = Word::choice;
    out.text = "depends on the choice";
  }
  // the numbers shown are of the state that the word speaks of
  const Option& first = out.options[0];
  const bool later =
      out.word == Word::breaks ||
      (out.word == Word::unknown && finding.cases[first.now].outcome.verdict != Verdict::unknown);
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
    if (summary.word != Word::fits || results.findings[summary.finding].cases.empty()) continue;
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

#include "report/summary_planned.hpp"

#include <algorithm>
#include <bit>
#include <map>

#include "report/page.hpp"
#include "report/phrases.hpp"

namespace mm {

namespace {

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

/// Without those that hold all of one of the others.
Masks none_within(const Masks& others, Masks masks) {
  std::erase_if(masks, [&](std::uint32_t mask) {
    return std::any_of(others.begin(), others.end(), [&](std::uint32_t o) { return (o & mask) == o; });
  });
  return masks;
}

/// What no setting is known to make fit any more.
Masks worse_than_set(const std::map<std::uint32_t, std::size_t>& by_mask, const Finding& finding) {
  return least_masks(by_mask, finding, [](Verdict v) { return v == Verdict::unknown; });
}

}  // namespace

const char* plain_text(Word word, Weight weight, const Outcome& outcome) {
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
  option.word = option.today = now_word;
  option.text = plain_text(now_word, weight, now);
  if (option.after != option.now && now.verdict == Verdict::conflict && after.verdict == Verdict::conflict) {
    const RequirementDef& requirement = scene.requirement(finding);
    const std::string miss = margin_text(scene, requirement, after);
    if (!miss.empty() && miss != margin_text(scene, requirement, now))
      option.text += "; still " + miss + " after " + masks_text(scene, finding, {all});
  }
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
  const auto told = [&](std::uint32_t rework) {
    return std::any_of(option.turns.begin(), option.turns.end(), [&](const PlannedTurn& t) {
      return std::find(t.reworks.begin(), t.reworks.end(), rework) != t.reworks.end();
    });
  };
  /// Of sets with a rework that is told nowhere yet.
  const auto turn_others = [&](PlannedTurn::Kind kind, Masks masks) {
    std::erase_if(masks, [&](std::uint32_t mask) {
      const std::vector<std::uint32_t> reworks = reworks_in(finding, mask);
      return std::all_of(reworks.begin(), reworks.end(), told);
    });
    turn(kind, masks);
  };
  using Kind = PlannedTurn::Kind;
  if (passes(after.verdict)) {
    option.word = Word::pending;
    if (passes(now.verdict)) {
      if (fails_at.empty() && unsure_at.empty()) {
        // it stops to apply, or begins to and fits
        option.word = now_word;
        if (now_word == Word::not_applicable) option.text += " now; fits after " + at(surely_fits_at);
        return;
      }
      // fits before and after, but perhaps not half-way: the order of work matters
      turn(Kind::breaks, fails_at);
      turn_others(Kind::doubts, unsure_at);
      turn_others(Kind::keeps, {all});
      option.text = (now_word == Word::fits ? "fits" : option.text) + " now; " +
                    (fails_at.empty() ? "unknown after " + at(unsure_at) : bad + " after " + at(fails_at)) +
                    " alone; fits after " + at({all});
      return;
    }
    turn(Kind::settles, fits_at);
    if (now.verdict != Verdict::conflict) turn_others(Kind::breaks, fails_at);
    const std::string before = now.verdict == Verdict::conflict ? "" : option.text + " now; ";
    option.text = before + "fits after " + at(fits_at);
    const bool at_once = fits_at.size() == 1 && fits_at[0] == all;
    if (now.verdict != Verdict::conflict && !fails_at.empty())
      option.text += ", but conflict after " + at(fails_at) + (at_once ? " alone" : "");
    else if (!at_once && !fails_at.empty())
      option.text += ", but still a conflict after " + at(fails_at) + " alone";
    return;
  }
  const auto say_aside = [&](Kind kind, const Masks& masks, std::string_view what) {
    if (masks.empty()) return;
    turn(kind, masks);
    option.text += "; " + std::string(what) + " after " + at(masks) + " alone";
  };
  if (after.verdict == Verdict::conflict) {
    if (now.verdict == Verdict::conflict) {
      say_aside(Kind::settles, fits_at, "fits");
      if (fits_at.empty()) say_aside(Kind::may_settle, unsure_at, "unknown");
      option.aside = "not after all planned work";
      return;
    }
    turn(Kind::breaks, fails_at);
    option.word = after_word == Word::conflict ? Word::breaks : passes(now.verdict) ? after_word : now_word;
    option.text = bad + " after " + at(fails_at);
    if (passes(now.verdict)) return;
    option.text = std::string(plain_text(now_word, weight, now)) + " now; " + option.text;
    say_aside(Kind::settles, fits_at, "fits");
    return;
  }
  option.word = after_word;
  option.text = std::string(plain_text(after_word, weight, after)) + " after " +
                at(after.verdict == Verdict::unknown ? unsure_at : Masks{all});
  if (now_word != after_word)
    option.text = std::string(plain_text(now_word, weight, now)) + " now; " + option.text;
  const bool was_set = now.verdict == Verdict::setting && after.verdict != Verdict::setting;
  if (now.verdict == Verdict::conflict) turn(Kind::may_settle, none_within(fits_at, unsure_at));
  if (passes(now.verdict) || was_set)
    turn(Kind::doubts, was_set ? worse_than_set(by_mask, finding) : unsure_at);
  if (now.verdict == Verdict::unknown && after.verdict == Verdict::setting) turn(Kind::may_settle, {all});
  if (!passes(now.verdict)) {
    say_aside(Kind::settles, fits_at, "fits");
    option.aside = "not after all planned work";
    if (!fits_at.empty()) turn_others(Kind::doubts, {all});
  }
  if (now.verdict == Verdict::conflict || fails_at.empty()) return;
  say_aside(Kind::breaks, fails_at, bad);
}

}  // namespace mm

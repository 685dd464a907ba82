#include "report/unknown_groups.hpp"

#include <algorithm>
#include <array>
#include <unordered_set>

#include "base/hash.hpp"
#include "base/index_table.hpp"
#include "report/options.hpp"
#include "report/page.hpp"
#include "report/phrases.hpp"

namespace mm {

namespace {

/// The statement in the text (file, where it begins), or the attribute of the part where nothing was stated:
/// one line to mend, one group.
using GroupKey = std::array<std::uint32_t, 4>;

GroupKey key_of(const Scene& scene, const Blame& blame) {
  const Given* given = given_of(scene, blame.cell);
  if (given != nullptr && given->span.file)
    return {given->span.file.index, given->span.begin, no_reg, no_reg};
  const Entity& e = scene.build.entities[blame.entity];
  const Instance& instance = scene.build.instances[e.instance];
  return {instance.fit_name.index, candidate_with(scene, blame.entity, blame.cell), e.face, blame.attribute};
}

std::uint64_t hash_of_key(const GroupKey& key) {
  return mixed(std::uint64_t{key[0]} << 32U | key[1], std::uint64_t{key[2]} << 32U | key[3]);
}

void note_half_width(UnknownGroup& group, const Blame& blame) {
  if (!blame.needed_half_width) return;
  if (!group.needed_half_width || *blame.needed_half_width < *group.needed_half_width)
    group.needed_half_width = *blame.needed_half_width;
}

/// Given up at the checker's own precision, or open for what a table says, and no value is known whose answer
/// would help.
bool past_help(const Outcome& outcome) {
  return (outcome.precision_limit || outcome.open_cell) &&
         std::none_of(outcome.blames.begin(), outcome.blames.end(),
                      [](const Blame& b) { return b.missing || b.needed_half_width || b.has_answers(); });
}

bool same_questions(const std::vector<Blame>& some, const std::vector<Blame>& others) {
  return std::equal(some.begin(), some.end(), others.begin(), others.end(),
                    [](const Blame& a, const Blame& b) { return a.asks_as(b); });
}

/// What would settle it, or what answer means what, is not the same with each candidate.
bool differ_in_questions(const Finding& finding, const std::vector<const Option*>& options) {
  const auto blames_of = [&](const Option& option) -> const auto& {
    const Outcome& now = finding.cases[option.now].outcome;
    return now.verdict == Verdict::unknown ? now.blames : finding.cases[option.after].outcome.blames;
  };
  return std::any_of(options.begin(), options.end(), [&](const Option* option) {
    return !same_questions(blames_of(*option), blames_of(*options.front()));
  });
}

std::vector<Waiting> unknown_cases(const Scene& scene, const Summary& summary, const FallenChoices& fallen) {
  const Finding& finding = scene.results.findings[summary.finding];
  std::vector<Waiting> out;
  const bool told = summary.word == Word::unknown || summary.word == Word::choice ||
                    summary.word == Word::pending || summary.word == Word::breaks;
  if (!told || summary.waived) return out;
  if (summary.options.empty() && !finding.cases.empty()) out.push_back({&summary, 0, nullptr, {}, {}});
  std::vector<const Option*> options;  // that are still in the race
  for (const Option& option : summary.options)
    if (std::none_of(option.choices.begin(), option.choices.end(),
                     [&](const auto& choice) { return fallen.contains(choice); }))
      options.push_back(&option);
  const bool by_candidate = summary.word == Word::choice || differ_in_questions(finding, options);
  for (const Option* each : options) {
    const Option& option = *each;
    const Outcome &now = finding.cases[option.now].outcome, &later = finding.cases[option.after].outcome;
    const bool waits_now = now.verdict == Verdict::unknown, waits_later = later.verdict == Verdict::unknown;
    if (!waits_now && !waits_later) continue;
    const std::string name = by_candidate ? option_name(scene, option) : std::string();
    const bool same =
        option.now == option.after || (waits_now && waits_later && same_questions(now.blames, later.blames));
    if (waits_now) out.push_back({&summary, option.now, nullptr, name, same ? "" : as_it_is});
    if (waits_later && !same)
      out.push_back({&summary, option.after, nullptr, name,
                     "after " + reworks_text(scene, finding.cases[option.after].reworks)});
  }
  return out;
}

}  // namespace

Unknowns group_unknowns(const Scene& scene, const Summaries& summaries, const FallenChoices& fallen) {
  Unknowns out;
  std::vector<GroupKey> keys;  // of the groups
  IndexTable seen;
  const auto put = [&](Waiting waiting, const Blame& blame) {
    const GroupKey key = key_of(scene, blame);
    const std::uint64_t hash = hash_of_key(key);
    std::uint32_t at = seen.find(hash, [&](std::uint32_t i) { return keys[i] == key; });
    if (at == IndexTable::none) {
      at = static_cast<std::uint32_t>(keys.size());
      seen.add(hash, at);
      keys.push_back(key);
      out.groups.push_back({blame.cell, blame.entity, blame.attribute, blame.missing, {}, {}, {}});
    }
    UnknownGroup& group = out.groups[at];
    note_half_width(group, blame);
    const Symbol place = scene.build.instances[scene.build.entities[blame.entity].instance].place;
    if (place && std::find(group.places.begin(), group.places.end(), place) == group.places.end())
      group.places.push_back(place);
    waiting.blame = &blame;
    group.waiting.push_back(std::move(waiting));
  };
  for (const Summary& summary : summaries) {
    const std::vector<Waiting> cases = unknown_cases(scene, summary, fallen);
    if (cases.empty() && summary.partly && summary.word == Word::unknown && !summary.waived)
      out.unplaced.push_back({&summary, 0, nullptr, {}, {}});
    for (const Waiting& waiting : cases) {
      const Outcome& outcome = scene.results.findings[summary.finding].cases[waiting.case_index].outcome;
      const auto& blames = outcome.blames;
      const bool any_missing =
          std::any_of(blames.begin(), blames.end(), [](const Blame& b) { return b.missing; });
      bool placed = false;
      for (const Blame& blame : blames) {
        if (past_help(outcome)) break;
        if (any_missing && !blame.missing) continue;
        if (!any_missing && placed) break;
        put(waiting, blame);
        placed = true;
      }
      if (!placed) out.unplaced.push_back(waiting);
    }
  }
  most_awaited_first(out.groups, [](const UnknownGroup& group) { return count_waits({&group}); });
  return out;
}

WaitCount count_waits(const std::vector<const UnknownGroup*>& groups) {
  WaitCount count;
  const auto add = [&](const Summary& summary) {
    ++(summary.weight == Weight::need     ? count.needs
       : summary.weight == Weight::should ? count.shoulds
                                          : count.others);
  };
  if (groups.size() == 1 && groups[0]->waiting.size() == 1) {  // nearly every one
    add(*groups[0]->waiting[0].summary);
    return count;
  }
  std::unordered_set<const Summary*> told;
  for (const UnknownGroup* group : groups)
    for (const Waiting& waiting : group->waiting) {
      if (told.insert(waiting.summary).second) add(*waiting.summary);
    }
  return count;
}

std::string wait_text(const WaitCount& count) {
  const std::size_t total = count.total();
  const std::string out = std::to_string(total) + (total == 1 ? " waits" : " wait");
  if (count.needs == total) return out;
  if (count.needs != 0)
    return out + ", " + std::to_string(count.needs) +
           (count.needs == 1 ? " of them a need" : " of them needs");
  if (count.shoulds == total) return out + (total == 1 ? ", a should" : ", all of them a should");
  return out + (total == 1 ? ", not a need" : ", none of them a need");
}

}  // namespace mm

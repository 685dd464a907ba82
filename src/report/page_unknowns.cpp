// What is not known, told by the value to measure.
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <unordered_map>

#include "report/check_sections.hpp"
#include "report/numbers.hpp"
#include "report/precision_text.hpp"
#include "report/slots.hpp"

namespace mm {

namespace {

constexpr std::size_t most_shown = 10;  // values on the short page

/// Equal for the same attribute of several faces or parts, known as badly, for the same requirements and
/// answers.
std::string twin_key(const Scene& scene, const UnknownGroup& group) {
  const AttributeDef& def = attribute_of(scene, group);
  std::string out = fmt::format("{}|{}|{}|{}|{}|{}|{}|", def.name.index, def.doc, def.measure, group.missing,
                                as_written(scene, group.cell), waiting_text(scene, group.waiting),
                                group_answers(scene, group).text);
  for (const Symbol place : group.places) out += fmt::format("{},", place.index);
  return out;
}

/// ", with w1 or w3": of which candidates only, where all that waits says the same.
std::string only_with(const GroupFamily& family) {
  std::vector<std::string> names;
  for (const UnknownGroup* group : family)
    for (const Waiting& waiting : group->waiting) {
      if (waiting.candidate.empty()) return {};
      if (std::find(names.begin(), names.end(), waiting.candidate) == names.end())
        names.push_back(waiting.candidate);
    }
  return names.size() > 3 ? std::string() : ", with " + listed(names, " or ");
}

/// ", after O1" where all that waits does so only then; else of each requirement that does: "; bore after
/// O1".
std::string only_then(const Scene& scene, const GroupFamily& family) {
  std::map<std::uint32_t, std::vector<std::string>> states;  // by finding
  for (const UnknownGroup* group : family)
    for (const Waiting& waiting : group->waiting) {
      std::vector<std::string>& its = states[waiting.summary->finding];
      if (std::find(its.begin(), its.end(), waiting.state) == its.end()) its.push_back(waiting.state);
    }
  const auto& first = states.begin()->second;
  if (std::all_of(states.begin(), states.end(), [&](const auto& s) { return s.second == first; }))
    return first.size() > 1 || first[0].empty() ? std::string() : ", " + first[0];
  std::set<std::string> told;
  for (const auto& [finding, its] : states)
    if (its.size() == 1 && !its[0].empty())
      told.insert("; " + scene.text(scene.requirement(scene.results.findings[finding]).name) + " " + its[0]);
  std::string out;
  for (const std::string& each : told) out += each;
  return out;
}

/// "wheel.pad of w1, w2 and w3", where they are one attribute of several candidates.
std::string family_name(const Scene& scene, const GroupFamily& family) {
  constexpr std::string_view of = " of ";
  std::vector<std::string> names, candidates;
  for (const UnknownGroup* twin : family) names.push_back(group_name(scene, *twin));
  const std::string attribute = names[0].substr(0, names[0].find(of));
  for (const std::string& name : names)
    if (name.starts_with(attribute + std::string(of)))
      candidates.push_back(name.substr(attribute.size() + of.size()));
  return candidates.size() == names.size() ? attribute + std::string(of) + listed(candidates) : listed(names);
}

/// "division by a range that holds zero", where all that waits is undefined for the same reason.
std::string undefined_text(const Scene& scene, const UnknownGroup& group) {
  std::string out;
  for (const Waiting& waiting : group.waiting) {
    const Finding& finding = scene.results.findings[waiting.summary->finding];
    const std::string reason = reason_text(scene, finding.cases[waiting.case_index].outcome);
    if (reason.empty() || (!out.empty() && reason != out)) return {};
    out = reason;
  }
  return out;
}

void tell_family(Page& page, const CheckView& view, const GroupFamily& family) {
  const Scene& scene = view.scene;
  const UnknownGroup& group = *family[0];
  const AttributeDef& def = attribute_of(scene, group);
  const std::string name = family_name(scene, family);
  std::string line = name;
  if (!group.missing) line += " " + as_written(scene, group.cell) + evidence_words(scene, group.cell);
  line += ": ";
  std::string how = printable(def.measure.empty() ? def.doc : def.measure);
  const auto& [answers, by_state, by_candidate, for_all] = group_answers(scene, group);
  std::optional<Rational> half_width = group.needed_half_width;
  if (half_width && for_all && *for_all < *half_width) half_width = for_all;
  const bool date = def.type.kind == TypeKind::date;
  const bool number = def.type.is_number() && def.type.kind != TypeKind::boolean && !date;
  if (how.empty()) how = group.missing ? "find it out" : number ? "measure it" : "find out which";
  if (half_width && !group.missing && !date) {
    const Unit unit = shown_unit(scene, def, given_of(scene, group.cell));
    how += ", to +- " + significant(in_unit(*half_width, unit, true), 2, Rounding::down) +
           unit_suffix(unit, true);
  } else if (!group.missing && number && answers.empty()) {
    how += ", as finely as you can";
  }
  line += how;
  if (!answers.empty()) line += "; " + answers;
  const std::string never = not_together_text(scene, family);
  if (!never.empty()) line += "; " + never;
  const std::string undefined_now = group.missing ? std::string() : undefined_text(scene, group);
  if (!undefined_now.empty()) line += "; " + undefined_now;
  const Given* given = given_of(scene, group.cell);
  const std::string at = given != nullptr ? where(scene, given->span, true) : std::string();
  line += " (" + wait_text(count_waits(family)) + (by_candidate ? "" : only_with(family)) +
          (by_state ? "" : only_then(scene, family)) + (at.empty() ? "" : "; " + at) + ")";
  page.text(clipped(line, 3, 1, 4), 1, 4, Tone::doubtful, name.size());
}

void tell_unplaced(Page& page, const CheckView& view, const Unknowns& unknowns) {
  const Scene& scene = view.scene;
  std::vector<const Summary*> rest;
  std::unordered_map<const Summary*, std::size_t> case_of;
  for (const Waiting& waiting : unknowns.unplaced)
    if (case_of.emplace(waiting.summary, waiting.case_index).second) rest.push_back(waiting.summary);
  const std::vector<Entry> entries = fold(scene, rest);
  const std::size_t told = view.all ? entries.size() : std::min(entries.size(), most_shown);
  for (std::size_t i = 0; i < told; ++i) {
    const Entry& entry = entries[i];
    const Finding& finding = view.finding(*entry.first);
    const Outcome& outcome = finding.cases[case_of.at(entry.first)].outcome;
    std::string line = short_head(view, entry) + marks(view, *entry.first) + ": ";
    if (entry.first->partly)
      line += "not all combinations of the candidates were tried (--max-combinations allows more)";
    else if (outcome.open_reason)
      line += reason_text(scene, outcome);
    else if (outcome.open_cell)
      line += open_cell_text(scene, outcome);
    else if (outcome.work_limit)
      line += "more work than one check may do (--max-work allows more)";
    else if (outcome.precision_limit)
      line += not_decided_text(scene, scene.requirement(finding), outcome);
    else
      line += "no single value would settle it";
    page.text(line, 1, 4, Tone::doubtful, scene.text(scene.requirement(finding).name).size());
  }
  if (told < entries.size())
    page.text("and " + counted(entries.size() - told, "more requirement") + " (--all names them)", 1, 4);
}

}  // namespace

void unknowns_section(Page& page, const CheckView& view, const std::vector<SlotView>& slots) {
  const Scene& scene = view.scene;
  const Unknowns unknowns = group_unknowns(scene, view.summaries, view.all ? FallenChoices{} : fallen(slots));
  if (unknowns.groups.empty() && unknowns.unplaced.empty()) return;
  page.heading(view.all ? "UNKNOWN: WHAT TO FIND OUT"
                        : "UNKNOWN: WHAT TO FIND OUT (how many verdicts wait; where it is written)",
               Tone::doubtful);
  std::vector<GroupFamily> families;
  std::unordered_map<std::string, std::size_t> seen;
  for (const UnknownGroup& group : unknowns.groups) {
    const auto [at, added] = seen.emplace(twin_key(scene, group), families.size());
    if (added) families.emplace_back();
    families[at->second].push_back(&group);
  }
  most_awaited_first(families, [](const GroupFamily& family) { return count_waits(family); });
  if (view.all)
    unknowns_section_at_length(page, view, families);
  else
    for (std::size_t i = 0; i < families.size() && i < most_shown; ++i) tell_family(page, view, families[i]);
  if (!view.all && families.size() > most_shown)
    page.text("and " + counted(families.size() - most_shown, "more value") + " (--all names them)", 1, 4);
  tell_unplaced(page, view, unknowns);
}

}  // namespace mm

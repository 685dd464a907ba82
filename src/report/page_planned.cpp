// Planned reworks, each with what it settles and what it spoils.
#include <algorithm>
#include <unordered_map>

#include "report/check_sections.hpp"
#include "report/planned.hpp"
#include "report/settings_after.hpp"

namespace mm {

namespace {

std::string verb_of(PlannedTurn::Kind kind) {
  switch (kind) {
    case PlannedTurn::Kind::settles:
      return "settles";
    case PlannedTurn::Kind::may_settle:
      return "may settle";
    case PlannedTurn::Kind::doubts:
      return "puts in doubt";
    case PlannedTurn::Kind::breaks:
      return "breaks";
    case PlannedTurn::Kind::keeps:
      return "keeps";
  }
  return "";
}

/// What effects have in common that are told in one line: "settles: ", "with O1b settles: ", "breaks: ".
std::string head_of(const Scene& scene, const PlannedEffect& effect) {
  std::vector<std::string> others;
  for (const std::uint32_t rework : effect.with)
    others.push_back(scene.text(scene.build.reworks[rework].name));
  return (others.empty() ? "" : "with " + listed(others) + " ") + verb_of(effect.kind) + ": ";
}

/// "with w1 or w3; conflict after O1 alone"; "" for a requirement that simply fits after it.
std::string note_of(const PlannedEffect& effect) {
  std::vector<std::string> notes;
  if (!effect.candidates.empty()) notes.push_back("with " + listed(effect.candidates, " or "));
  if (!effect.note.empty()) notes.push_back(effect.note);
  return listed(notes, "; ");
}

/// By requirement: where it does not come out well.
using OpenPlaces = std::unordered_map<RequirementId, std::vector<const Summary*>>;

OpenPlaces open_places(const CheckView& view) {
  OpenPlaces out;
  for (const Summary& summary : view.summaries)
    if ((summary.word == Word::conflict || summary.word == Word::unknown) && !summary.waived)
      out[view.finding(summary).requirement].push_back(&summary);
  return out;
}

/// Elsewhere it does not come out well: then the place is worth telling.
bool open_elsewhere(const CheckView& view, const OpenPlaces& open, const PlannedEffect& effect) {
  const auto at = open.find(view.finding(*effect.entry.first).requirement);
  const auto& members = effect.entry.members;
  return at != open.end() && std::any_of(at->second.begin(), at->second.end(), [&](const Summary* summary) {
           return std::find(members.begin(), members.end(), summary) == members.end();
         });
}

std::string name_of(const CheckView& view, const OpenPlaces& open, const PlannedEffect& effect) {
  if (view.all) return entry_head(view.scene, effect.entry, false) + marks(view, *effect.entry.first);
  if (open_elsewhere(view, open, effect)) return short_head(view, effect.entry);
  return view.scene.text(view.scene.requirement(view.finding(*effect.entry.first)).name);
}

struct PlannedLine {
  std::string head;
  std::vector<std::pair<std::string, std::vector<std::string>>> by_note;
};

template <typename List, typename Same>
auto& found_or_added(List& list, Same same, typename List::value_type added) {
  const auto at = std::find_if(list.begin(), list.end(), same);
  return at == list.end() ? list.emplace_back(std::move(added)) : *at;
}

std::vector<PlannedLine> lines_of(const CheckView& view, const OpenPlaces& open, const PlannedWork& work) {
  std::vector<PlannedLine> lines;
  for (const PlannedEffect& effect : work.effects) {
    const std::string head = head_of(view.scene, effect), note = note_of(effect);
    PlannedLine& line =
        found_or_added(lines, [&](const PlannedLine& l) { return l.head == head; }, {head, {}});
    auto& names =
        found_or_added(line.by_note, [&](const auto& group) { return group.first == note; }, {note, {}})
            .second;
    std::string told = name_of(view, open, effect);
    if (std::find(names.begin(), names.end(), told) == names.end()) names.push_back(std::move(told));
  }
  return lines;
}

/// "nut_thread and nut_false_pair; rear_angle and angle_for_speed (both unknown now)"
std::string short_text(const PlannedLine& line) {
  std::vector<std::string> groups;
  for (const auto& [note, names] : line.by_note) {
    const std::string_view all = names.size() == 1 ? "" : names.size() == 2 ? "both " : "all ";
    const bool one_depends = note.starts_with("depends ") && names.size() > 1;
    const std::string told = one_depends ? "depend" + note.substr(std::string_view("depends").size()) : note;
    groups.push_back(listed(names) + (note.empty() ? "" : " (" + std::string(all) + told + ")"));
  }
  return line.head + listed(groups, "; ");
}

/// The sets of requirements that can hold together only after a rework, or several with it, or cannot then:
/// "low and high".
std::vector<std::string> sets_with(const CheckView& view, std::uint32_t rework,
                                   std::vector<std::uint32_t> ConflictSet::*reworks) {
  std::vector<std::string> out;
  for (const ConflictSet& set : view.scene.results.conflict_sets) {
    const std::vector<std::uint32_t>& its = set.*reworks;
    if (set.after_unsettled || std::find(its.begin(), its.end(), rework) == its.end()) continue;
    std::vector<std::string> names;
    for (const auto& [index, case_index] : set.members)
      names.push_back(view.scene.text(view.scene.requirement(view.scene.results.findings[index]).name));
    out.push_back(listed(names));
  }
  return out;
}

/// By rework: the requirements of which other settings fit once it is done.
std::vector<std::vector<std::string>> set_otherwise(const CheckView& view) {
  std::vector<std::vector<std::string>> out(view.scene.build.reworks.size());
  for (const Summary* summary : view.with(Word::setting)) {
    const Finding& finding = view.finding(*summary);
    const std::string name = view.scene.text(view.scene.requirement(finding).name);
    for (const std::uint32_t rework : finding.reworks) {
      auto& names = out[rework];
      if (sets_otherwise(view.scene, finding, *summary, rework) &&
          std::find(names.begin(), names.end(), name) == names.end())
        names.push_back(name);
    }
  }
  return out;
}

}  // namespace

void planned_work_section(Page& page, const CheckView& view) {
  const Scene& scene = view.scene;
  const auto works = planned_work(scene, view.summaries);
  if (works.empty()) return;
  page.heading("PLANNED WORK (not done yet)", Tone::doubtful);
  const auto set_by = set_otherwise(view);
  const OpenPlaces open = open_places(view);
  for (const PlannedWork& work : works) {
    const Rework& rework = scene.build.reworks[work.rework];
    const std::string name = scene.text(rework.name);
    std::string line = name;
    if (!rework.doc.empty()) line += ": " + printable(rework.doc);
    if (!rework.by.empty()) line += ", by " + printable(rework.by);
    page.text(line + " (" + where(scene, rework.span, true) + ")", 1, 4, Tone::bold, name.size());
    const std::vector<std::string> parted = sets_with(view, work.rework, &ConflictSet::after),
                                   against = sets_with(view, work.rework, &ConflictSet::in_state);
    const std::vector<std::string>& set = set_by[work.rework];
    if (work.effects.empty() && parted.empty() && against.empty() && set.empty())
      page.text("changes no verdict", 4, 6);
    if (!set.empty()) page.text("moves the settings that fit: " + listed(set), 4, 6, Tone::doubtful, 28);
    for (const std::string& names : parted)
      page.text("lets hold together: " + names, 4, 6, Tone::doubtful, 19);
    for (const std::string& names : against)
      page.text("cannot hold together then: " + names, 4, 6, Tone::bad, 26);
    for (const PlannedLine& told : lines_of(view, open, work)) {
      const Tone tone =
          told.head.ends_with("breaks: ") || told.head.ends_with("doubt: ") ? Tone::bad : Tone::doubtful;
      if (!view.all) {
        page.text(clipped(short_text(told), 3, 4, 6), 4, 6, tone, told.head.size());
        continue;
      }
      page.text(told.head.substr(0, told.head.size() - 1), 4, 6, tone);
      for (const auto& [note, names] : told.by_note)
        for (const std::string& each : names) page.text(each + (note.empty() ? "" : " (" + note + ")"), 6, 9);
    }
  }
}

}  // namespace mm

// What is not known, told by the value to measure; and what depends on a setting.
#include <algorithm>

#include "report/check_sections.hpp"
#include "report/numbers.hpp"
#include "report/unknown_groups.hpp"

namespace mm {

namespace {

/// "spoke_clearance, lug_circle (with alloy_15) at rear_left": what waits, each requirement once.
std::string waiting_text(const Scene& scene, const std::vector<Waiting>& waiting) {
  std::vector<std::string> names;
  std::vector<std::vector<Symbol>> places;
  std::vector<std::vector<std::string>> candidates;
  for (const Waiting& w : waiting) {
    const Finding& finding = scene.results.findings[w.summary->finding];
    const std::string name = scene.text(scene.requirement(finding).name);
    auto at = static_cast<std::size_t>(std::find(names.begin(), names.end(), name) - names.begin());
    if (at == names.size()) {
      names.push_back(name);
      places.emplace_back();
      candidates.emplace_back();
    }
    if (const Symbol place = shared_place(scene, finding)) places[at].push_back(place);
    auto& with = candidates[at];
    if (!w.candidate.empty() && std::find(with.begin(), with.end(), w.candidate) == with.end())
      with.push_back(w.candidate);
  }
  std::vector<std::string> items;
  for (std::size_t i = 0; i < names.size(); ++i) {
    std::string item = names[i] + places_text(scene, places[i]);
    if (!candidates[i].empty() && candidates[i].size() <= 3)
      item += " (with " + listed(candidates[i], " or ") + ")";
    items.push_back(std::move(item));
  }
  return listed(items);
}

void tell_group(Page& page, const CheckView& view, const UnknownGroup& group) {
  const Scene& scene = view.scene;
  const AttributeDef& def = schema_of(scene.model(), scene.build, group.entity).attributes[group.attribute];
  const CellOwner owner{group.entity, group.attribute, &def, 0};
  const std::string name = attribute_name(scene, owner);
  const Given* given = given_of(scene, group.cell);
  std::string line = name + ": " + as_written(scene, group.cell);
  const std::string evidence = evidence_text(scene, group.cell);
  if (!evidence.empty()) line += " (" + evidence + ")";
  line += places_text(scene, group.places);
  if (given != nullptr && given->span.file) line += ", " + where(scene, given->span, true);
  page.text(line, 1, 4, Tone::doubtful, name.size());
  std::string how;
  if (!def.doc.empty()) how = printable(def.doc);
  if (!def.measure.empty()) how += (how.empty() ? "" : ": ") + printable(def.measure);
  if (group.needed_half_width && !group.missing) {
    const Unit unit = shown_unit(scene, def, given);
    const Rational width = in_unit(*group.needed_half_width, unit, true);
    how += (how.empty() ? "know it" : ";") + std::string(" to +- ") + significant(width, 2, Rounding::down) +
           unit_suffix(unit, true);
  } else if (!group.missing) {
    how += (how.empty() ? "" : "; ") + std::string("its limit may lie inside whatever spread is left");
  }
  if (!how.empty()) page.text((group.missing ? "find out: " : "measure: ") + how, 4, 6);
  page.text("waits: " + waiting_text(scene, group.waiting), 4, 6);
}

}  // namespace

void unknowns_section(Page& page, const CheckView& view) {
  const Scene& scene = view.scene;
  const Unknowns unknowns = group_unknowns(scene, view.summaries);
  if (unknowns.groups.empty() && unknowns.unplaced.empty()) return;
  page.heading("UNKNOWN: WHAT TO FIND OUT", Tone::doubtful);
  for (const UnknownGroup& group : unknowns.groups) tell_group(page, view, group);
  std::vector<const Summary*> rest;
  for (const Waiting& waiting : unknowns.unplaced)
    if (rest.empty() || rest.back() != waiting.summary) rest.push_back(waiting.summary);
  for (const Entry& entry : fold(scene, rest)) {
    const Finding& finding = view.finding(*entry.first);
    const auto waiting = std::find_if(unknowns.unplaced.begin(), unknowns.unplaced.end(),
                                      [&](const Waiting& w) { return w.summary == entry.first; });
    const Outcome& outcome = finding.cases[waiting->case_index].outcome;
    std::string line = entry_head(scene, entry, false) + marks(view, *entry.first) + ": ";
    if (!outcome.undefined_reason.empty())
      line += printable(outcome.undefined_reason);
    else if (outcome.precision_limit)
      line += "not decided at the precision that the checker works to";
    else
      line += "no single value would settle it";
    page.text(line, 1, 4, Tone::doubtful, scene.text(scene.requirement(finding).name).size());
  }
}

void settings_section(Page& page, const CheckView& view) {
  const Scene& scene = view.scene;
  const auto entries = fold(scene, view.with(Word::setting));
  if (entries.empty()) return;
  page.heading("DEPENDS ON THE SETTING", Tone::doubtful);
  for (const Entry& entry : entries) {
    const Finding& finding = view.finding(*entry.first);
    const Outcome& outcome = finding.cases[entry.first->shown_case].outcome;
    std::vector<std::string> knobs;
    for (const CellId cell : outcome.reads) {
      const CellOwner* owner = view.owners.of(cell);
      if (owner == nullptr || (scene.build.cells[cell].flags & cell_adjustable) == 0) continue;
      const Given* given = given_of(scene, cell);
      knobs.push_back(attribute_name(scene, *owner) + " " + as_written(scene, cell) +
                      (given != nullptr ? " (" + where(scene, given->span, true) + ")" : ""));
    }
    const RequirementDef& requirement = scene.requirement(finding);
    page.text(entry_head(scene, entry, false) + marks(view, *entry.first), 1, 4, Tone::doubtful,
              scene.text(requirement.name).size());
    page.text(expression_text(scene, requirement.test_expr), 4, 6);
    if (!knobs.empty()) page.text("set by " + listed(knobs), 4, 6);
  }
}

}  // namespace mm

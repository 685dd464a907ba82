// What is not known, told by the value to measure; and what depends on a setting.
#include <fmt/format.h>

#include <algorithm>
#include <map>

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

const AttributeDef& attribute_of(const Scene& scene, const UnknownGroup& group) {
  return schema_of(scene.model(), scene.build, group.entity).attributes[group.attribute];
}

/// What answer means what, where one requirement waits and says so: "41.2 mm or more fits, 40.8 mm or less
/// does not".
std::string group_answers(const Scene& scene, const UnknownGroup& group) {
  const Unit unit = shown_unit(scene, attribute_of(scene, group), given_of(scene, group.cell));
  const Blame& first = *group.waiting[0].blame;
  const auto same = [&](const Waiting& w) {
    const Blame& b = *w.blame;
    return scene.results.findings[w.summary->finding].requirement ==
               scene.results.findings[group.waiting[0].summary->finding].requirement &&
           b.fits_from == first.fits_from && b.fits_to == first.fits_to && b.fails_from == first.fails_from &&
           b.fails_to == first.fails_to;
  };
  if (!std::all_of(group.waiting.begin(), group.waiting.end(), same)) return {};
  return answers_text(first, unit);
}

std::string group_name(const Scene& scene, const UnknownGroup& group) {
  return attribute_name(scene, CellOwner{group.entity, group.attribute, &attribute_of(scene, group), 0});
}

/// Equal for the same attribute of two faces of a part, known as badly, for the same requirements and
/// answers.
std::string twin_key(const Scene& scene, const UnknownGroup& group) {
  std::string out = fmt::format("{}|{}|{}|{}|", static_cast<const void*>(&attribute_of(scene, group)),
                                as_written(scene, group.cell), waiting_text(scene, group.waiting),
                                group_answers(scene, group));
  for (const Symbol place : group.places) out += fmt::format("{},", place.index);
  return out;
}

/// Names of the other values that a verdict turns on, most influential first, at most four.
std::string others_text(const Scene& scene, const std::vector<Blame>& blames, const std::string& but) {
  std::vector<std::string> names;
  for (const Blame& blame : blames) {
    const AttributeDef& def = schema_of(scene.model(), scene.build, blame.entity).attributes[blame.attribute];
    const std::string name = attribute_name(scene, CellOwner{blame.entity, blame.attribute, &def, 0});
    if (name == but || names.size() == 4 || std::find(names.begin(), names.end(), name) != names.end())
      continue;
    names.push_back(name);
  }
  return listed(names);
}

void tell_group(Page& page, const CheckView& view, const UnknownGroup& group,
                const std::vector<const UnknownGroup*>& twins) {
  const Scene& scene = view.scene;
  const AttributeDef& def = attribute_of(scene, group);
  const Given* given = given_of(scene, group.cell);
  std::vector<std::string> names = {group_name(scene, group)};
  std::vector<std::string> at;
  for (const UnknownGroup* twin : twins) names.push_back(group_name(scene, *twin));
  const auto add_place = [&](CellId cell) {
    const Given* its = given_of(scene, cell);
    if (its != nullptr && its->span.file) at.push_back(where(scene, its->span, true));
  };
  add_place(group.cell);
  for (const UnknownGroup* twin : twins) add_place(twin->cell);
  const std::string name = listed(names);
  std::string line = name + ": " + as_written(scene, group.cell);
  const std::string evidence = evidence_text(scene, group.cell);
  if (!evidence.empty()) line += " (" + evidence + ")";
  line += places_text(scene, group.places);
  if (!at.empty()) line += ", " + listed(at, ", ");
  page.text(line, 1, 4, Tone::doubtful, name.size());
  std::string how;
  if (!def.doc.empty()) how = printable(def.doc);
  if (!def.measure.empty()) how += (how.empty() ? "" : ": ") + printable(def.measure);
  const Unit unit = shown_unit(scene, def, given);
  const std::string answers = group_answers(scene, group);
  if (group.needed_half_width && !group.missing) {
    const Rational width = in_unit(*group.needed_half_width, unit, true);
    how += (how.empty() ? "know it" : ",") + std::string(" to +- ") + significant(width, 2, Rounding::down) +
           unit_suffix(unit, true);
  } else if (!group.missing && answers.empty()) {
    how += (how.empty() ? "" : ", ") +
           std::string("as finely as you can, for the limit lies near the middle of what is known");
  }
  if (!how.empty()) page.text((group.missing ? "find out: " : "measure: ") + how, 4, 6);
  if (!answers.empty()) page.text("answer: " + answers, 4, 6);
  if (!group.missing && !group.needed_half_width && answers.empty()) {
    const Waiting& first = group.waiting[0];
    const auto& blames = view.finding(*first.summary).cases[first.case_index].outcome.blames;
    const std::string others = others_text(scene, blames, names[0]);
    if (!others.empty()) page.text("turns also on: " + others, 4, 6);
  }
  page.text("waits: " + waiting_text(scene, group.waiting), 4, 6);
}

}  // namespace

void unknowns_section(Page& page, const CheckView& view) {
  const Scene& scene = view.scene;
  const Unknowns unknowns = group_unknowns(scene, view.summaries);
  if (unknowns.groups.empty() && unknowns.unplaced.empty()) return;
  page.heading("UNKNOWN: WHAT TO FIND OUT", Tone::doubtful);
  std::map<std::string, std::vector<const UnknownGroup*>> twins;
  for (const UnknownGroup& group : unknowns.groups) twins[twin_key(scene, group)].push_back(&group);
  for (const UnknownGroup& group : unknowns.groups) {
    auto& family = twins.at(twin_key(scene, group));
    if (family.empty() || family[0] != &group) continue;
    family.erase(family.begin());
    tell_group(page, view, group, family);
    family.clear();
  }
  std::vector<const Summary*> rest;
  for (const Waiting& waiting : unknowns.unplaced)
    if (rest.empty() || rest.back() != waiting.summary) rest.push_back(waiting.summary);
  for (const Entry& entry : fold(scene, view.owners, rest)) {
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
  const auto entries = fold(scene, view.owners, view.with(Word::setting));
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
    const std::string rule = expression_text(scene, requirement.test_expr);
    if (display_width(rule) <= 120) page.text(rule, 4, 6);
    const std::string why = reason_and_remedy(view, finding, entry.first->shown_case);
    if (!why.empty()) page.text(why, 4, 4);
    if (!knobs.empty()) page.text("set by " + listed(knobs), 4, 6);
    const std::string others = others_text(scene, outcome.blames, {});
    if (!others.empty()) page.text("the right setting turns on " + others, 4, 6);
  }
}

}  // namespace mm

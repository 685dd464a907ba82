// What is not known, at length, for --all: told by the value to measure, with all that waits for it.
#include <algorithm>

#include "report/check_sections.hpp"
#include "report/numbers.hpp"
#include "report/unknown_groups.hpp"

namespace mm {

namespace {

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
  const std::string answers = group_answers(scene, group).text;
  if (group.needed_half_width && !group.missing) {
    const Rational width = in_unit(*group.needed_half_width, unit, true);
    how += (how.empty() ? "know it" : ",") + std::string(" to +- ") + significant(width, 2, Rounding::down) +
           unit_suffix(unit, true);
  } else if (!group.missing && answers.empty() && def.type.is_number()) {
    how += (how.empty() ? "" : ", ") +
           std::string("as finely as you can, for the limit lies near the middle of what is known");
  }
  if (how.empty()) how = group.missing ? "its value" : def.type.is_number() ? "" : "which of these it is";
  if (!how.empty()) page.text((group.missing ? "find out: " : "measure: ") + how, 4, 6);
  if (!answers.empty()) page.text("answer: " + answers, 4, 6);
  if (!group.missing && !group.needed_half_width && answers.empty()) {
    const Waiting& first = group.waiting[0];
    const auto& blames = view.finding(*first.summary).cases[first.case_index].outcome.blames;
    const std::string others = others_text(scene, blames, names[0]);
    if (!others.empty()) page.text("turns also on: " + others, 4, 6);
  }
  std::vector<const UnknownGroup*> family = twins;
  family.push_back(&group);
  const std::string never = not_together_text(scene, family);
  if (!never.empty()) page.text(never, 4, 6);
  page.text("waits: " + waiting_text(scene, group.waiting), 4, 6);
}

}  // namespace

void unknowns_section_at_length(Page& page, const CheckView& view, const std::vector<GroupFamily>& families) {
  for (const GroupFamily& family : families)
    tell_group(page, view, *family[0], {family.begin() + 1, family.end()});
}

}  // namespace mm

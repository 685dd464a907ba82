// What depends on a setting.
#include <algorithm>

#include "report/check_sections.hpp"
#include "report/unknown_groups.hpp"

namespace mm {

namespace {

std::vector<std::string> knobs_of(const CheckView& view, const Outcome& outcome) {
  const Scene& scene = view.scene;
  std::vector<std::string> knobs;
  for (const CellId cell : outcome.reads) {
    const CellOwner* owner = view.owners.of(cell);
    if (owner == nullptr || (scene.build.cells[cell].flags & cell_adjustable) == 0) continue;
    const Given* given = given_of(scene, cell);
    std::string knob = attribute_name(scene, *owner) + (view.all ? " " + as_written(scene, cell) : "") +
                       (given != nullptr ? " (" + where(scene, given->span, true) + ")" : "");
    if (std::find(knobs.begin(), knobs.end(), knob) == knobs.end()) knobs.push_back(std::move(knob));
  }
  return knobs;
}

void tell_at_length(Page& page, const CheckView& view, const Entry& entry, const Outcome& outcome) {
  const Scene& scene = view.scene;
  const Finding& finding = view.finding(*entry.first);
  const RequirementDef& requirement = scene.requirement(finding);
  page.text(short_head(view, entry) + marks(view, *entry.first), 1, 4, Tone::doubtful,
            scene.text(requirement.name).size());
  const std::string rule = expression_text(scene, requirement.test_expr);
  if (display_width(rule) <= 120) page.text(rule, 4, 6);
  const std::string why = reason_and_remedy(view, finding, entry.first->shown_case);
  if (!why.empty()) page.text(why, 4, 4);
  const auto knobs = knobs_of(view, outcome);
  if (!knobs.empty()) page.text("set by " + listed(knobs), 4, 6);
  const std::string fitting = setting_text(scene, outcome);
  if (!fitting.empty()) page.text(fitting, 4, 6);
  const std::string others = others_text(scene, outcome.blames, {});
  if (!others.empty()) page.text("the right setting turns on " + others, 4, 6);
}

}  // namespace

void settings_section(Page& page, const CheckView& view) {
  const Scene& scene = view.scene;
  const auto entries = fold(scene, view.owners, view.with(Word::setting));
  if (entries.empty()) return;
  page.heading("DEPENDS ON THE SETTING", Tone::doubtful);
  std::vector<std::pair<std::string, std::vector<std::string>>> by_knobs;  // what is set: what turns on it
  for (const Entry& entry : entries) {
    const Finding& finding = view.finding(*entry.first);
    const Outcome& outcome = finding.cases[entry.first->shown_case].outcome;
    if (view.all) {
      tell_at_length(page, view, entry, outcome);
      continue;
    }
    const std::string knobs = listed(knobs_of(view, outcome));
    auto group =
        std::find_if(by_knobs.begin(), by_knobs.end(), [&](const auto& g) { return g.first == knobs; });
    if (group == by_knobs.end()) group = by_knobs.insert(by_knobs.end(), {knobs, {}});
    std::string name = scene.text(scene.requirement(finding).name);
    if (const std::string fitting = setting_text(scene, outcome); !fitting.empty())
      name += " (" + fitting + ")";
    auto& names = group->second;
    if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(std::move(name));
  }
  for (const auto& [knobs, names] : by_knobs)
    page.text(clipped(knobs + " sets " + listed(names), 3, 1, 4), 1, 4, Tone::doubtful, knobs.find(' '));
}

}  // namespace mm

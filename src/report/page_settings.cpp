// What depends on a setting.
#include <algorithm>

#include "base/display_width.hpp"
#include "report/knob_groups.hpp"
#include "report/settings_after.hpp"

namespace mm {

namespace {

void tell_at_length(Page& page, const CheckView& view, const Entry& entry) {
  const Scene& scene = view.scene;
  const Summary& summary = *entry.first;
  const Finding& finding = view.finding(summary);
  const RequirementDef& requirement = scene.requirement(finding);
  page.text(short_head(view, entry) + marks(view, summary), 1, 4, Tone::doubtful,
            scene.text(requirement.name).size());
  const std::string rule = expression_text(scene, requirement.test_expr);
  if (display_width(rule) <= 120) page.text(rule, 4, 6);
  const std::string why = reason_and_remedy(view, finding, summary.shown_case);
  if (!why.empty()) page.text(why, 4, 4);
  const std::vector<Setting> settings = settings_of(view, summary);
  for (const std::vector<std::string>& knobs : knobs_of(settings)) {
    page.text("set by " + listed(knobs), 4, 6);
    page.text(windows_text(scene, summary, settings, knobs, true).first, 4, 6);
  }
  std::vector<Blame> blames;
  for (const Setting& setting : settings)
    blames.insert(blames.end(), setting.outcome->blames.begin(), setting.outcome->blames.end());
  const std::string others = others_text(scene, blames, {});
  if (!others.empty()) page.text("the right setting turns on " + others, 4, 6);
}

void tell_short(Page& page, const CheckView& view, const KnobGroup& group) {
  std::string line = listed(group.knobs) + (group.knobs.size() == 1 ? " sets " : " set ") +
                     listed(group.names.empty() ? group.at_times : group.names);
  const std::string all = shared_text(view.scene, group);
  if (!all.empty()) line += ": " + all;
  line += open_text(view.scene, group);
  page.text(clipped(line, 4, 1, 4), 1, 4, Tone::doubtful, line.find(' '));
  const std::string at_times = at_times_text(view.scene, group);
  if (!at_times.empty()) page.text(clipped(at_times, 3, 4, 6), 4, 6);
}

}  // namespace

void settings_section(Page& page, const CheckView& view) {
  std::vector<const Summary*> found;
  for (const Summary& summary : view.summaries)
    if (!summary.waived && is_set_somewhere(view.finding(summary), summary)) found.push_back(&summary);
  if (found.empty()) return;
  page.heading("DEPENDS ON THE SETTING", Tone::doubtful);
  const std::vector<Entry> entries = fold(view.scene, found);
  if (view.all) {
    for (const Entry& entry : entries) tell_at_length(page, view, entry);
    return;
  }
  std::vector<const Summary*> firsts;
  for (const Entry& entry : entries) firsts.push_back(entry.first);
  for (const KnobGroup& group : knob_groups(view, firsts)) tell_short(page, view, group);
}

}  // namespace mm

// Sets of requirements that can each be met but not all together.
#include <algorithm>

#include "report/check_sections.hpp"

namespace mm {

void conflict_sets_section(Page& page, const CheckView& view) {
  const Scene& scene = view.scene;
  if (scene.results.conflict_sets.empty()) return;
  page.heading("CANNOT ALL HOLD TOGETHER", Tone::bad);
  for (const ConflictSet& set : scene.results.conflict_sets) {
    std::string members;
    std::vector<std::string> values;
    for (const auto& [index, case_index] : set.members) {
      const Finding& finding = scene.results.findings[index];
      Entry entry{&view.summaries[index], {&view.summaries[index]}, {}};
      if (const Symbol place = finding.binding->place) entry.places.push_back(place);
      const std::string wanted = wanted_text(view, finding, case_index);
      members += (members.empty() ? "" : "; ") + entry_head(scene, entry, false) +
                 (wanted.empty() ? "" : ": " + wanted);
    }
    for (const CellId cell : set.shared)
      if (const auto owner = home_of(view.scene, cell))
        values.push_back(attribute_name(scene, *owner, true) + " " + as_written(scene, cell));
    if (!set.in_state.empty()) members.insert(0, "After " + reworks_text(scene, set.in_state) + ": ");
    page.text(members + ".", 1, 4, Tone::bad, 0);
    if (!values.empty()) page.text("They pull apart: " + listed(values) + ".", 4, 6);
    if (const std::string after = reworks_text(scene, set.after); !after.empty())
      page.text(set.after_unsettled ? "Whether they can after " + after + " was not settled."
                                    : "After " + after + " they can hold together.",
                4, 6);
  }
}

std::string not_together_text(const Scene& scene, const std::vector<const UnknownGroup*>& waiting) {
  const auto waits = [&](std::uint32_t finding) {
    return std::any_of(waiting.begin(), waiting.end(), [&](const UnknownGroup* group) {
      return std::any_of(group->waiting.begin(), group->waiting.end(),
                         [&](const Waiting& w) { return w.summary->finding == finding; });
    });
  };
  std::string out;
  for (const ConflictSet& set : scene.results.conflict_sets) {
    if (std::none_of(set.members.begin(), set.members.end(), [&](const auto& m) { return waits(m.first); }))
      continue;
    std::vector<std::string> names;
    for (const auto& [index, case_index] : set.members) {
      const std::string name = scene.text(scene.requirement(scene.results.findings[index]).name);
      if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
    }
    const std::string text = "no value meets " + listed(names) + " together" +
                             (set.after.empty() ? "" : " before " + reworks_text(scene, set.after)) +
                             (set.in_state.empty() ? "" : " after " + reworks_text(scene, set.in_state));
    if (out.find(text) == std::string::npos) out += (out.empty() ? "" : "; ") + text;
  }
  return out;
}

}  // namespace mm

// Planned reworks and what they change.
#include <algorithm>

#include "report/check_sections.hpp"

namespace mm {

void planned_work_section(Page& page, const CheckView& view) {
  const Scene& scene = view.scene;
  auto wanted = view.with(Word::breaks);
  for (const Summary* summary : view.with(Word::pending)) wanted.push_back(summary);
  if (wanted.empty()) return;
  page.heading("PLANNED WORK", Tone::doubtful);
  for (const Rework& rework : scene.build.reworks) {
    if (rework.done) continue;
    std::string line = scene.text(rework.name);
    if (!rework.doc.empty()) line += ": " + printable(rework.doc);
    if (view.all && !rework.by.empty()) line += ", planned by " + printable(rework.by);
    page.text(line + " (" + where(scene, rework.span, true) + ")", 1, 4);
  }
  const auto entries = fold(scene, view.owners, wanted);
  if (!view.all) {
    std::vector<std::pair<const Summary*, std::vector<std::string>>> by_text;  // the same outcome told once
    for (const Entry& entry : entries) {
      auto group = std::find_if(by_text.begin(), by_text.end(),
                                [&](const auto& g) { return g.first->text == entry.first->text; });
      if (group == by_text.end()) group = by_text.insert(by_text.end(), {entry.first, {}});
      std::string name = scene.text(scene.requirement(view.finding(*entry.first)).name);
      auto& names = group->second;
      if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(std::move(name));
    }
    for (const auto& [first, names] : by_text)
      page.text(clipped(first->text + ": " + listed(names), 3, 2, 6), 2, 6,
                first->word == Word::breaks ? Tone::bad : Tone::doubtful, first->text.size());
    return;
  }
  for (const Entry& entry : entries)
    page.text(entry_head(scene, entry, false) + marks(view, *entry.first) + ": " + entry.first->text, 2, 6,
              entry.first->word == Word::breaks ? Tone::bad : Tone::doubtful,
              scene.text(scene.requirement(view.finding(*entry.first)).name).size());
}

}  // namespace mm

// How a set of findings that leaves no choice is told.
#include "report/no_choice.hpp"

#include <algorithm>
#include <map>

#include "report/numbers.hpp"
#include "report/page.hpp"
#include "report/phrases.hpp"

namespace mm {

namespace {

void add(std::vector<std::string>& items, std::string item) {
  if (std::find(items.begin(), items.end(), item) == items.end()) items.push_back(std::move(item));
}

/// "s1 and s2: whichever are chosen, with or without R1"
std::string head_of(const Scene& scene, const NoChoice& set) {
  std::vector<std::string> slots, reworks;
  for (const std::uint32_t fit : set.slots) add(slots, scene.text(scene.build.fits[fit].name));
  for (const std::uint32_t rework : set.reworks) add(reworks, scene.text(scene.build.reworks[rework].name));
  if (slots.empty()) return listed(reworks) + ": done or not";
  return listed(slots) + (slots.size() == 1 ? ": whichever is chosen" : ": whichever are chosen") +
         (reworks.empty() ? "" : ", with or without " + listed(reworks));
}

/// "fx", and where several uses of it stand in the set "fx at l and r" or "fx on a + c".
std::vector<std::string> requirements_of(const Scene& scene, const NoChoice& set) {
  std::vector<std::string> out;
  struct Use {
    std::size_t times = 0;
    std::vector<Symbol> places;
  };
  std::map<std::string, Use> use_of;  // by name
  for (const std::size_t index : set.findings) {
    const Finding& finding = scene.results.findings[index];
    Use& use = use_of[scene.text(scene.requirement(finding).name)];
    ++use.times;
    if (const Symbol place = finding.binding->place) use.places.push_back(place);
  }
  for (const std::size_t index : set.findings) {
    const Finding& finding = scene.results.findings[index];
    const std::string name = scene.text(scene.requirement(finding).name);
    const auto& [uses, places] = use_of[name];
    const std::string weight = scene.requirement(finding).weight == Weight::should ? " (should)" : "";
    if (uses == 1)
      add(out, name + weight);
    else if (places.size() == uses)
      for (const Symbol place : places) add(out, name + " at " + scene.text(place) + weight);
    else
      add(out, name + " on " + subject_text(scene, finding, false) + weight);
  }
  return out;
}

/// "P (1 there)", "A (left: 0 there)"
std::vector<std::string> shortages_of(const Scene& scene, const NoChoice& set) {
  std::vector<std::string> out;
  for (const GraphFinding* graph : set.graph)
    add(out, scene.text(scene.build.parts[graph->part].name) + " (" +
                 (graph->hand ? scene.text(graph->hand) + ": " : std::string()) + decimal_text(graph->there) +
                 " there)");
  for (const SharedPart& shared : set.shared)
    add(out,
        scene.text(scene.build.parts[shared.part].name) + " (" + decimal_text(*shared.there) + " there)");
  return out;
}

}  // namespace

std::string no_choice_text(const Scene& scene, const NoChoice& set) {
  const auto requirements = requirements_of(scene, set), shortages = shortages_of(scene, set);
  std::string out = head_of(scene, set) + ", ";
  if (!requirements.empty())
    out += (requirements.size() == 1 ? "" : "one of ") + listed(requirements) + " fails";
  if (!requirements.empty() && !shortages.empty()) out += ", or ";
  if (!shortages.empty()) out += "there are too few of " + listed(shortages, " or ");
  return out;
}

}  // namespace mm

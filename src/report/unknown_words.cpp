// Words for what is not known: which value, what answer means what, and what waits for it.
#include <fmt/format.h>

#include <algorithm>

#include "report/numbers.hpp"
#include "report/page.hpp"
#include "report/phrases.hpp"
#include "report/regions.hpp"
#include "report/unknown_groups.hpp"
#include "report/values.hpp"

namespace mm {

const AttributeDef& attribute_of(const Scene& scene, const UnknownGroup& group) {
  return schema_of(scene.model(), scene.build, group.entity).attributes[group.attribute];
}

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
  return answers_text(first, unit, known_width(scene, first), attribute_of(scene, group).type.kind);
}

std::uint32_t candidate_with(const Scene& scene, EntityId entity, CellId cell) {
  const Instance& instance = scene.build.instances[scene.build.entities[entity].instance];
  if (scene.build.fits[instance.fit].candidates.size() < 2) return no_reg;
  const auto home = home_of(scene, cell);
  return home ? home->part : no_reg;
}

std::string group_name(const Scene& scene, const UnknownGroup& group) {
  const std::string name =
      attribute_name(scene, CellHome{group.entity, group.attribute, &attribute_of(scene, group), 0});
  const std::uint32_t part = candidate_with(scene, group.entity, group.cell);
  return part == no_reg ? name : name + " of " + scene.text(scene.build.parts[part].name);
}

std::string others_text(const Scene& scene, const std::vector<Blame>& blames, const std::string& but) {
  std::vector<std::string> names;
  for (const Blame& blame : blames) {
    const AttributeDef& def = schema_of(scene.model(), scene.build, blame.entity).attributes[blame.attribute];
    const std::string name = attribute_name(scene, CellHome{blame.entity, blame.attribute, &def, 0});
    if (but == name || but.starts_with(name + " of ") ||
        std::find(names.begin(), names.end(), name) != names.end())
      continue;
    names.push_back(name);
  }
  constexpr std::size_t most = 4;
  if (names.size() > most + 1) {
    const std::size_t more = names.size() - most;
    names.resize(most);
    names.push_back(std::to_string(more) + " more");
  }
  return listed(names);
}

std::string waiting_text(const Scene& scene, const std::vector<Waiting>& waiting) {
  std::vector<std::string> names;
  std::vector<std::vector<Symbol>> places;
  std::vector<std::vector<std::string>> candidates, states;
  for (const Waiting& w : waiting) {
    const Finding& finding = scene.results.findings[w.summary->finding];
    const std::string name = scene.text(scene.requirement(finding).name);
    auto at = static_cast<std::size_t>(std::find(names.begin(), names.end(), name) - names.begin());
    if (at == names.size()) {
      names.push_back(name);
      places.emplace_back();
      candidates.emplace_back();
      states.emplace_back();
    }
    if (const Symbol place = finding.binding->place) places[at].push_back(place);
    auto& with = candidates[at];
    if (!w.candidate.empty() && std::find(with.begin(), with.end(), w.candidate) == with.end())
      with.push_back(w.candidate);
    if (std::find(states[at].begin(), states[at].end(), w.state) == states[at].end())
      states[at].push_back(w.state);
  }
  std::vector<std::string> items;
  for (std::size_t i = 0; i < names.size(); ++i) {
    std::string item = names[i] + places_text(scene, places[i]);
    std::vector<std::string> notes;
    if (!candidates[i].empty() && candidates[i].size() <= 3)
      notes.push_back("with " + listed(candidates[i], " or "));
    if (states[i].size() == 1 && !states[i][0].empty()) notes.push_back(states[i][0]);
    if (!notes.empty()) item += " (" + listed(notes, "; ") + ")";
    items.push_back(std::move(item));
  }
  return listed(items);
}

}  // namespace mm

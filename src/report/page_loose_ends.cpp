// What is joined to nothing, fitted nowhere or not counted. A build that is only begun has much of it, so the
// short page tells what is alike in one breath.
#include <map>
#include <unordered_map>

#include "report/check_sections.hpp"

namespace mm {

namespace {

using What = GraphFinding::What;

constexpr std::size_t told_apart = 3;   // so many alike have a line each
constexpr std::size_t most_named = 60;  // about a dozen lines
constexpr std::size_t most_unused = 6;  // a shared file of parts is no list of things to do

struct LooseEnd {
  const GraphFinding* first = nullptr;
  std::string text;
  std::vector<Symbol> places;
};

std::vector<LooseEnd> loose_ends(const CheckView& view) {
  const Build& build = view.scene.build;
  std::vector<LooseEnd> out;
  std::unordered_map<std::string, std::size_t> known;  // an end of several places is told once
  for (const Word word : {Word::unknown, Word::not_applicable})
    for (const GraphFinding& graph : view.scene.results.graph) {
      if (graph_word(graph) != word) continue;
      std::string text = graph_text(view.scene, graph, view.all);
      const auto [at, is_new] = known.try_emplace(text, out.size());
      if (is_new) out.push_back({&graph, std::move(text), {}});
      if (!graph.entity) continue;
      const Symbol place = build.instances[build.entities[graph.entity].instance].place;
      if (place) out[at->second].places.push_back(place);
    }
  return out;
}

std::string short_name(const Scene& scene, const GraphFinding& graph) {
  if (graph.entity) return entity_text(scene, graph.entity, false);
  const std::string name = scene.text(scene.build.parts[graph.part].name);
  return graph.what == What::quantity_unstated ? name + " (" + decimal_text(graph.needed) + " needed)" : name;
}

std::string told_together(const Scene& scene, const std::vector<const LooseEnd*>& ends,
                          const std::string& places) {
  const What what = ends.front()->first->what;
  const std::size_t most = what == What::left_over_part ? most_unused : most_named;
  std::vector<std::string> names;
  std::string hint;
  for (const LooseEnd* end : ends) {
    if (names.size() == most && ends.size() > most + 1) {
      names.push_back(std::to_string(ends.size() - most) + " more");
      hint = " (--all names them)";
      break;
    }
    names.push_back(short_name(scene, *end->first));
  }
  switch (what) {
    case What::quantity_unstated:
      return "quantity: say how many there are of " + listed(names) + hint;
    case What::open_face:
      return "open: " + listed(names) + " are joined to nothing" + places + hint;
    case What::left_over_part:
      return "left over: " + listed(names) + " are fitted nowhere" + hint;
    default:
      return "left over: " + listed(names) + " are fitted but joined to nothing" + places + hint;
  }
}

}  // namespace

void loose_ends_section(Page& page, const CheckView& view) {
  const std::vector<LooseEnd> ends = loose_ends(view);
  if (ends.empty()) return;
  page.heading("LOOSE ENDS");
  using Alike = std::pair<What, std::string>;
  std::vector<Alike> order;
  std::map<Alike, std::vector<const LooseEnd*>> alike;
  for (const LooseEnd& end : ends) {
    Alike key{end.first->what, places_text(view.scene, end.places)};
    auto& group = alike[key];
    if (group.empty()) order.push_back(std::move(key));
    group.push_back(&end);
  }
  for (const Alike& key : order) {
    const auto& group = alike[key];
    if (view.all || group.size() <= told_apart) {
      for (const LooseEnd* end : group) page.text(end->text + key.second, 1, 4);
    } else {
      page.text(told_together(view.scene, group, key.second), 1, 4);
    }
  }
}

}  // namespace mm

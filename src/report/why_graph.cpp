// `why` of what no rule states: too few of a part, too few of a hand, a face that is joined to nothing.
#include <algorithm>

#include "report/check_sections.hpp"
#include "report/why_page.hpp"

namespace mm {

namespace {

using What = GraphFinding::What;

std::string_view query_word(What what) {
  switch (what) {
    case What::quantity_short:
    case What::quantity_unstated:
      return "quantity";
    case What::hand_short:
      return "hand";
    case What::open_face:
      return "open";
    case What::left_over_part:
    case What::unjoined_part:
      break;
  }
  return "";
}

}  // namespace

std::string_view nothing_of_that_sort(std::string_view requirement) {
  if (requirement == "quantity") return "no part is short in number, and none leaves its number open";
  if (requirement == "hand") return "no part is short of a hand";
  if (requirement == "open") return "no face that must be joined is open";
  return "";
}

std::string_view graph_meaning(GraphFinding::What what) {
  switch (what) {
    case What::quantity_short:
    case What::quantity_unstated:
      return "Every build is checked for this: a part that is fitted several times must be there as often. "
             "Its sheet says how many there are (quantity 4); the build may say how many each place takes "
             "(each "
             "5).";
    case What::hand_short:
      return "Every build is checked for this: a place with a hand takes a part of that hand. The part's "
             "sheet says which hands it has (hand left, right).";
    case What::open_face:
      return "Every build is checked for this: a face that its kind does not call optional must be in a "
             "joint, else what it mates with is judged by nothing.";
    case What::left_over_part:
    case What::unjoined_part:
      break;
  }
  return "";
}

std::vector<PartFit> fits_of_part(const Scene& scene, std::uint32_t part) {
  std::vector<PartFit> out;
  for (const Fit& fit : scene.build.fits) {
    if (std::find(fit.candidates.begin(), fit.candidates.end(), part) == fit.candidates.end()) continue;
    PartFit found{&fit, {}};
    for (const std::uint32_t i : fit.instances)
      if (scene.build.instances[i].place) found.places.push_back(scene.build.instances[i].place);
    out.push_back(std::move(found));
  }
  return out;
}

std::vector<std::size_t> matching_graph(const Scene& scene, const WhyQuery& query) {
  std::vector<std::size_t> out;
  for (std::size_t i = 0; i < scene.results.graph.size(); ++i) {
    const GraphFinding& graph = scene.results.graph[i];
    if (query_word(graph.what) != query.requirement) continue;
    std::vector<std::string> names;
    if (graph.entity) {
      const Instance& instance = scene.build.instances[scene.build.entities[graph.entity].instance];
      names = {entity_text(scene, graph.entity, true), entity_text(scene, graph.entity, false),
               scene.text(instance.fit_name), scene.text(instance.place)};
    }
    if (graph.part < scene.build.parts.size()) {
      names.push_back(scene.text(scene.build.parts[graph.part].name));
      for (const Fit& fit : scene.build.fits)
        if (std::find(fit.candidates.begin(), fit.candidates.end(), graph.part) != fit.candidates.end())
          names.push_back(scene.text(fit.name));
    }
    if (std::all_of(query.subjects.begin(), query.subjects.end(), [&](const std::string& subject) {
          return std::find(names.begin(), names.end(), subject) != names.end();
        }))
      out.push_back(i);
  }
  return out;
}

std::string why_graph_page(const Scene& scene, const std::vector<std::size_t>& graph, bool colour) {
  Page page(colour);
  page.text(build_name(scene) + " (" +
            (scene.build.decl != nullptr ? where(scene, scene.build.decl->span) : "") + ")");
  for (const std::size_t i : graph) {
    const GraphFinding& finding = scene.results.graph[i];
    page.blank();
    std::string head = graph_text(scene, finding, true);
    if (finding.entity)
      if (const Symbol place = scene.build.instances[scene.build.entities[finding.entity].instance].place)
        head += " at " + scene.text(place);
    page.text(head, 0, 2, Tone::bold);
    for (const auto& [fit, places] : fits_of_part(scene, finding.part)) {
      std::string line = "fitted: " + scene.text(fit->name) + places_text(scene, places);
      if (fit->each != 1) line += ", each " + decimal_text(fit->each);
      if (fit->candidates.size() > 1) line += ", as one of " + std::to_string(fit->candidates.size());
      page.text(line + "; " + where(scene, fit->span), 2, 6);
    }
  }
  page.blank();
  page.text(graph_meaning(scene.results.graph[graph[0]].what));
  return page.str();
}

}  // namespace mm

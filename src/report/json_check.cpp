#include "report/json_check.hpp"

#include <nlohmann/json.hpp>

#include "report/json_check_lists.hpp"
#include "report/json_values.hpp"
#include "report/slots.hpp"

namespace mm {

namespace {

Json totals_json(const Totals& totals) {
  Json out;
  for (std::size_t i = 0; i < word_count; ++i)
    out[std::string(word_name(static_cast<Word>(i)))] = totals.told[i];
  out["waived"] = totals.waived;
  out["weak_fits"] = totals.weak_fits;
  return out;
}

Json set_json(const Scene& scene, const ConflictSet& set) {
  Json out;
  out["findings"] = Json::array();
  for (const auto& [finding, index] : set.members)
    out["findings"].push_back({{"finding", finding}, {"case", index}});
  out["values"] = Json::array();
  for (const CellId cell : set.shared)
    if (const auto owner = home_of(scene, cell)) out["values"].push_back(attribute_name(scene, *owner, true));
  out["state"] = rework_names(scene, set.in_state);
  out["after"] = rework_names(scene, set.after);
  out["after_settled"] = !set.after_unsettled;
  return out;
}

Json no_choice_json(const Scene& scene, const NoChoice& set) {
  const auto part = [&](std::uint32_t index) { return scene.text(scene.build.parts[index].name); };
  Json out;
  out["text"] = no_choice_text(scene, set);
  out["slots"] = Json::array();
  for (const std::uint32_t fit : set.slots) out["slots"].push_back(scene.text(scene.build.fits[fit].name));
  out["reworks"] = rework_names(scene, set.reworks);
  out["findings"] = set.findings;
  out["too_few"] = Json::array();
  for (const GraphFinding* graph : set.graph) out["too_few"].push_back(part(graph->part));
  for (const SharedPart& shared : set.shared) out["too_few"].push_back(part(shared.part));
  return out;
}

}  // namespace

void CheckJson::add(const Scene& scene, const Conclusion& conclusion) {
  Tracer tracer(scene.results, scene.names);
  CheckView view{scene, tracer, conclusion, {}, true};
  const auto& summaries = view.summaries;
  Json out;
  out["build"] = scene.text(scene.build.name);
  out["title"] = printable(scene.build.title);
  out["place"] = scene.build.decl != nullptr ? place_json(scene, scene.build.decl->span) : Json(nullptr);
  out["exit_status"] = exit_status(scene, conclusion);
  out["parts"] = scene.build.instances.size();
  out["joints"] = scene.build.joints.size();
  out["totals"] = totals_json(count_words(summaries, scene.results));
  out["rules_not_judged"] = scene.results.rules_not_judged;
  JsonValues values(scene);
  for (const Summary& summary : summaries) values.add(scene.results.findings[summary.finding]);
  out["values"] = Json::array();
  out["findings"] = Json::array();
  out["graph"] = Json::array();
  for (const GraphFinding& graph : scene.results.graph) out["graph"].push_back(graph_json(scene, graph));
  out["conflict_sets"] = Json::array();
  for (const ConflictSet& set : scene.results.conflict_sets)
    out["conflict_sets"].push_back(set_json(scene, set));
  out["no_choices"] = Json::array();
  for (const NoChoice& set : conclusion.no_choices) out["no_choices"].push_back(no_choice_json(scene, set));
  const std::vector<SlotView> slots = slot_views(view);
  out["slots"] = slots_json(view, slots);
  out["reworks"] = reworks_json(view);
  out["find_out"] = find_out_json(view);
  out["close_fits"] = Json::array();
  for (const CloseFit& fit : close_fits(view, slots))
    out["close_fits"].push_back({{"finding", fit.summary->finding}, {"case", fit.case_index}});
  out["cautions"] = caution_texts(view);
  out["notes"] = Json::array();
  for (const std::string& note : scene.results.notes) out["notes"].push_back(printable(note));
  const JsonBuilds::Members long_ones[] = {
      {"values", values.size(), [&](std::size_t i) { return values.value(i); }},
      {"findings", summaries.size(),
       [&](std::size_t i) { return finding_json(scene, values, tracer, summaries[i]); }}};
  builds_.add(out, long_ones);
}

}  // namespace mm

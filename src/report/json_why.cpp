#include "report/json_why.hpp"

#include <nlohmann/json.hpp>

#include "report/json_values.hpp"
#include "report/numbers.hpp"
#include "report/why_page.hpp"

namespace mm {

namespace {

Json node_json(const Scene& scene, const TraceNode& node, const std::optional<Unit>& unit,
               int digits = usual_digits) {
  Json out;
  out["text"] = node.expr ? Json(expression_text(scene, node.expr)) : Json(nullptr);
  out["used_as"] = node.used_as ? Json(expression_text(scene, node.used_as)) : Json(nullptr);
  out["label"] = node.label.empty() ? Json(nullptr) : Json(printable(node.label));
  const std::string value = node.kind == TypeKind::boolean ? (node.truth == Truth::yes  ? "yes"
                                                              : node.truth == Truth::no ? "no"
                                                                                        : "not certain")
                                                           : node_text(scene, node, unit, digits);
  out["value"] = value.empty() ? Json(nullptr) : Json(value);
  out["undefined"] = node.undefined;
  out["row"] = nullptr;
  if (node.table < scene.model().tables.size()) {
    const TableDef& table = scene.model().tables[TableId{node.table}];
    Json sources = Json::array();
    for (const std::string& source : table.sources) sources.push_back(printable(source));
    out["row"] = {{"table", scene.text(table.name)},
                  {"place", node.row < table.row_spans.size() ? place_json(scene, table.row_spans[node.row])
                                                              : Json(nullptr)},
                  {"sources", sources}};
  }
  out["children"] = Json::array();
  digits = digits_of_sides(scene, node, unit);
  for (const TraceNode& child : node.children)
    out["children"].push_back(node_json(scene, child, unit, digits));
  return out;
}

/// What was counted, and each fit that counts towards it.
Json graph_reason_json(const Scene& scene, const GraphFinding& graph) {
  Json out = graph_json(scene, graph);
  out["meaning"] = graph_meaning(graph.what);
  out["fits"] = Json::array();
  for (const auto& [fit, places] : fits_of_part(scene, graph.part)) {
    Json at = Json::array();
    for (const Symbol place : places) at.push_back(scene.text(place));
    out["fits"].push_back({{"fit", scene.text(fit->name)},
                           {"places", std::move(at)},
                           {"each", round_nearest(fit->each)},
                           {"candidates", fit->candidates.size()},
                           {"place", place_json(scene, fit->span)}});
  }
  return out;
}

}  // namespace

void WhyJson::add(const Scene& scene, const std::vector<std::size_t>& findings,
                  const std::vector<std::size_t>& graph) {
  Tracer tracer(scene.results, scene.names);
  JsonValues values(scene);
  for (const std::size_t i : findings) values.add(scene.results.findings[i]);
  Json told = Json::array();
  for (std::size_t i = 0; i < values.size(); ++i) told.push_back(values.value(i));
  Json list = Json::array();
  for (const std::size_t i : findings) {
    const Summary summary = summarize(scene, i);
    const Finding& finding = scene.results.findings[i];
    const RequirementDef& requirement = scene.requirement(finding);
    Json out = finding_json(scene, values, tracer, summary);
    out["with_numbers"] = nullptr;
    out["reason"] = nullptr;
    if (!finding.cases.empty()) {
      const TraceNode tree = settled_trace(tracer, finding, summary.shown_case);
      out["with_numbers"] =
          expression_with_numbers(scene, requirement.test_expr, tree, requirement.margin_unit);
      out["reason"] = node_json(scene, tree, requirement.margin_unit);
    }
    list.push_back(std::move(out));
  }
  Json counted = Json::array();
  for (const std::size_t i : graph) counted.push_back(graph_reason_json(scene, scene.results.graph[i]));
  builds_.add({{"build", scene.text(scene.build.name)},
               {"values", std::move(told)},
               {"findings", std::move(list)},
               {"graph", std::move(counted)}});
}

}  // namespace mm

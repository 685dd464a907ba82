// The pieces that the JSON reports share; their shape is documented in schema/check.schema.json.
#pragma once
#include <nlohmann/json_fwd.hpp>

#include "report/phrases.hpp"

namespace mm {

using Json = nlohmann::ordered_json;

/// {"file", "line", "column"}, or null without a place.
Json place_json(const Sources& sources, Span span);
Json place_json(const Scene& scene, Span span);
/// Of indices into Build::reworks, in that order.
Json rework_names(const Scene& scene, const std::vector<std::uint32_t>& reworks);
/// {"lo", "hi", "unit"} in the unit, with null for an infinite end, and "base_lo", "base_hi" in base units;
/// null where it is empty.
Json range_json(const ExactInterval& base, const Unit& unit, bool difference = false);
/// A value that was read: name, file, line, as written, bounds, evidence.
Json cell_json(const Scene& scene, CellId cell);
class JsonValues;
Json case_json(const Scene& scene, const JsonValues& values, const Finding& finding, std::size_t case_index,
               Weight weight);
Json finding_json(const Scene& scene, const JsonValues& values, Tracer& tracer, const Summary& summary);
Json graph_json(const Scene& scene, const GraphFinding& graph);
/// Head of every report: program, version, format.
Json report_head(std::string_view report);
/// Two blanks a level, ASCII only, a newline at the end.
std::string dump(const Json& json);

/// Null for an empty text.
Json text_or_null(std::string text);

std::string_view verdict_word(Verdict verdict);

}  // namespace mm

#include "report/json_parts.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "report/check_sections.hpp"
#include "report/json_values.hpp"
#include "report/numbers.hpp"
#include "report/precision_text.hpp"

namespace mm {

namespace {

/// The writer gives it enough digits to be read back the same.
Json number(const Rational& value) { return round_nearest(value); }

ExactInterval bounds_of(const Scene& scene, CellId cell) {
  const Given* given = given_of(scene, cell);
  const Cell& c = scene.build.cells[cell];
  const bool plain =
      given != nullptr && (c.flags & (cell_missing | cell_disputed)) == 0 && !given->exact.empty;
  return plain ? given->exact : ExactInterval::from(c.number);
}

Grade weakest_given(const Scene& scene, const Given& given) {
  Grade out = given.grade;
  each_statement(scene, given, [&](const Given& each) { out = std::max(out, each.grade); });
  return out;
}

Json flags_json(std::uint8_t flags) {
  Json out = Json::array();
  if ((flags & cell_missing) != 0) out.push_back("missing");
  if ((flags & cell_adjustable) != 0) out.push_back("adjustable");
  if ((flags & cell_disputed) != 0) out.push_back("disputed");
  if ((flags & cell_default_spread) != 0) out.push_back("default_spread");
  return out;
}

namespace {

/// As it is read back it does not lie outside of the limit.
Json inner_number(const Rational& limit, bool is_from) {
  const double nearest = round_nearest(limit);
  const auto told = read_back(fmt::format("{}", nearest));
  const bool outside = told && (is_from ? *told < limit : *told > limit);
  return outside ? std::nextafter(nearest, is_from ? HUGE_VAL : -HUGE_VAL) : nearest;
}

Json region_json(const Region& region, const Unit& unit) {
  Json out;
  Json open = Json::array();
  for (const auto& [name, limit] : {std::pair{"from", &region.from}, std::pair{"to", &region.to}}) {
    const bool is_from = limit == &region.from;
    out[name] = *limit ? inner_number(in_unit((*limit)->at, unit), is_from) : Json(nullptr);
    if (*limit && (*limit)->open) open.push_back(name);
  }
  out["open"] = std::move(open);
  return out;
}

}  // namespace

Json blame_json(const Scene& scene, const Blame& blame) {
  const AttributeDef& def = schema_of(scene.model(), scene.build, blame.entity).attributes[blame.attribute];
  const CellHome owner{blame.entity, blame.attribute, &def, 0};
  const Given* given = given_of(scene, blame.cell);
  const Unit unit = shown_unit(scene, def, given);
  const auto regions = [&](const ValueSet& values) {
    Json list = Json::array();
    for (const Region& region : values.regions()) list.push_back(region_json(region, unit));
    return list;
  };
  Json out;
  out["name"] = attribute_name(scene, owner, true);
  out["missing"] = blame.missing;
  out["measure"] = text_or_null(printable(def.measure));
  out["doc"] = text_or_null(printable(def.doc));
  out["unit"] = text_or_null(unit.text);
  out["needed_half_width"] =
      blame.needed_half_width ? number(in_steps(*blame.needed_half_width, unit)) : Json(nullptr);
  out["fits"] = regions(blame.fits);
  out["fails"] = regions(blame.fails);
  out["fitting"] = fitting_words(scene, blame);
  out["others_fail"] = blame.others_fail && !blame.more_words;
  return out;
}

Json waiver_json(const Scene& scene, const Finding& finding, const Summary& summary) {
  if (finding.waiver >= scene.build.waivers.size()) return nullptr;
  const Waiver& waiver = scene.build.waivers[finding.waiver];
  Json out;
  out["by"] = text_or_null(printable(waiver.by));
  out["until"] = text_or_null(printable(waiver.until));
  out["because"] = text_or_null(printable(waiver.because));
  out["expired"] = summary.waiver_expired;
  out["place"] = place_json(scene, waiver.span);
  return out;
}

}  // namespace

Json text_or_null(std::string text) { return text.empty() ? Json(nullptr) : Json(std::move(text)); }

std::string_view verdict_word(Verdict verdict) {
  switch (verdict) {
    case Verdict::not_applicable:
      return "not_applicable";
    case Verdict::fits:
      return "fits";
    case Verdict::setting:
      return "setting";
    case Verdict::choice:
      return "choice";
    case Verdict::unknown:
      return "unknown";
    case Verdict::conflict:
      return "conflict";
  }
  return "";
}

Json place_json(const Sources& sources, Span span) {
  if (!span.file) return nullptr;
  const Place place = sources.place(span);
  return {{"file", printable(sources[span.file].path)}, {"line", place.line}, {"column", place.column}};
}

Json place_json(const Scene& scene, Span span) { return place_json(scene.sources, span); }

Json rework_names(const Scene& scene, const std::vector<std::uint32_t>& reworks) {
  Json out = Json::array();
  for (const std::uint32_t rework : reworks) out.push_back(scene.text(scene.build.reworks[rework].name));
  return out;
}

Json range_json(const ExactInterval& base, const Unit& unit, bool difference) {
  if (base.empty) return nullptr;
  const auto end = [&](const Rational& value, bool infinite) {
    return infinite ? Json(nullptr) : number(in_unit(value, unit, difference));
  };
  Json out;
  out["lo"] = end(base.lo_value, base.lo_infinite);
  out["hi"] = end(base.hi_value, base.hi_infinite);
  const std::string suffix = unit_suffix(unit, difference);
  out["unit"] = text_or_null(suffix.starts_with(' ') ? suffix.substr(1) : suffix);
  out["base_lo"] = base.lo_infinite ? Json(nullptr) : number(base.lo_value);
  out["base_hi"] = base.hi_infinite ? Json(nullptr) : number(base.hi_value);
  return out;
}

Json cell_json(const Scene& scene, CellId cell) {
  const auto owner = home_of(scene, cell);
  if (!owner) return nullptr;
  const Given* given = given_of(scene, cell);
  Json out;
  out["name"] = attribute_name(scene, *owner, true);
  out["part"] = scene.text(scene.build.parts[owner->part].name);
  out["written"] = given != nullptr ? Json(as_written(scene, cell)) : Json(nullptr);
  out["place"] = given != nullptr ? place_json(scene, given->span) : Json(nullptr);
  out["range"] = owner->def->type.is_number()
                     ? range_json(bounds_of(scene, cell), shown_unit(scene, *owner->def, given))
                     : Json(nullptr);
  out["text"] = cell_value_text(scene, *owner, cell);
  out["grade"] = given != nullptr ? Json(grade_word(weakest_given(scene, *given))) : Json(nullptr);
  const TextId note =
      given != nullptr && given->evidence ? scene.tree.evidence[given->evidence].note : TextId{};
  out["note"] = note ? Json(printable(scene.tree.texts[note].text)) : Json(nullptr);
  out["rework"] = given != nullptr && given->rework < scene.build.reworks.size()
                      ? Json(scene.text(scene.build.reworks[given->rework].name))
                      : Json(nullptr);
  out["flags"] = flags_json(scene.build.cells[cell].flags);
  return out;
}

/// Between what the margin surely lies; null for an end that is not known.
Json precision_json(const Scene& scene, const RequirementDef& requirement, const Outcome& outcome) {
  if (!outcome.precision) return nullptr;
  const Interval range = Interval::of(outcome.precision->least, outcome.precision->most);
  return range_json(ExactInterval::from(range), precision_unit(scene, requirement, outcome), true);
}

Json case_json(const Scene& scene, const JsonValues& values, const Finding& finding, std::size_t case_index,
               Weight weight) {
  const Case& c = finding.cases[case_index];
  const RequirementDef& requirement = scene.requirement(finding);
  const Outcome& outcome = c.outcome;
  Json out;
  out["choices"] = Json::object();
  for (const auto& [fit, candidate] : c.choices)
    out["choices"][scene.text(scene.build.fits[fit].name)] = candidate_name(scene, fit, candidate);
  out["reworks"] = rework_names(scene, c.reworks);
  out["verdict"] = verdict_word(outcome.verdict);
  out["word"] = word_name(case_word(outcome.verdict, weight));
  out["evidence"] = outcome.read_any ? Json(grade_word(outcome.evidence)) : Json(nullptr);
  out["margin"] =
      outcome.margin && !outcome.margin->is_empty()
          ? range_json(ExactInterval::from(*outcome.margin), margin_unit(scene, requirement, outcome), true)
          : Json(nullptr);
  out["margin_text"] = text_or_null(margin_text(scene, requirement, outcome));
  out["setting"] = text_or_null(setting_text(scene, outcome));
  const std::string reason = reason_text(scene, outcome);
  out["undefined"] = outcome.undefined ? Json(reason) : Json(nullptr);
  out["rows_disagree"] = outcome.undefined || reason.empty() ? Json(nullptr) : Json(reason);
  out["open_cell"] = text_or_null(open_cell_text(scene, outcome));
  out["disputed"] = outcome.disputed;
  out["default_spread"] = outcome.default_spread;
  out["precision_limit"] = outcome.precision_limit;
  out["work_limit"] = outcome.work_limit;
  out["precision"] = precision_json(scene, requirement, outcome);
  out["precision_text"] = text_or_null(precision_text(scene, requirement, outcome));
  out["blames"] = Json::array();
  for (const Blame& blame : outcome.blames) out["blames"].push_back(blame_json(scene, blame));
  out["reads"] = values.numbers(outcome.reads);
  return out;
}

Json finding_json(const Scene& scene, const JsonValues& values, Tracer& tracer, const Summary& summary) {
  const Finding& finding = scene.results.findings[summary.finding];
  const RequirementDef& requirement = scene.requirement(finding);
  const bool joined = finding.binding->joint != no_reg;
  Json out;
  out["requirement"] = scene.text(requirement.name);
  out["owner"] = scene.text(requirement.owner);
  out["weight"] = weight_word(requirement.weight);
  out["verdict"] = word_name(summary.word);
  out["text"] = summary.text();
  out["waived"] = summary.waived;
  out["subjects"] = Json::array();
  for (const EntityId entity : bound_entities(finding))
    out["subjects"].push_back(printable(entity_name(scene.model(), scene.build, entity, scene.names)));
  out["joint"] =
      joined ? text_or_null(scene.text(scene.build.joints[finding.binding->joint].label)) : Json(nullptr);
  out["place"] = text_or_null(scene.text(finding.binding->place));
  out["hazard"] = text_or_null(scene.text(requirement.hazard));
  out["settles_at"] = text_or_null(gate_word(requirement.settles_at));
  out["rule"] = place_json(scene, requirement.span);
  out["test"] = expression_text(scene, requirement.test_expr);
  out["source"] = text_or_null(printable(requirement.source));
  const CheckView view{scene, tracer, {}, {}, false};
  const auto told = [&](const Template& text) -> Json {
    if (text.empty() || finding.cases.empty()) return nullptr;
    return told_by_option(view, summary, text);
  };
  out["found"] = summary.word == Word::conflict && !finding.cases.empty()
                     ? text_or_null(failure_text(view, finding, summary.shown_case))
                     : Json(nullptr);
  out["because"] = told(requirement.because);
  out["remedy"] = told(requirement.remedy);
  out["waiver"] = waiver_json(scene, finding, summary);
  out["shown_case"] = summary.shown_case;
  out["cases"] = Json::array();
  for (std::size_t c = 0; c < finding.cases.size(); ++c)
    out["cases"].push_back(case_json(scene, values, finding, c, requirement.weight));
  return out;
}

Json graph_json(const Scene& scene, const GraphFinding& graph) {
  static constexpr std::string_view words[] = {"quantity_short", "quantity_unstated", "hand_short",
                                               "open_face",      "left_over_part",    "unjoined_part"};
  Json out;
  out["what"] = words[static_cast<std::size_t>(graph.what)];
  out["verdict"] =
      graph_word(graph) == Word::not_applicable ? Json("listed") : Json(word_name(graph_word(graph)));
  out["text"] = graph_text(scene, graph, true);
  out["subject"] = graph.entity
                       ? Json(printable(entity_name(scene.model(), scene.build, graph.entity, scene.names)))
                       : Json(nullptr);
  const bool has_part = graph.part < scene.build.parts.size();
  out["part"] = has_part ? Json(scene.text(scene.build.parts[graph.part].name)) : Json(nullptr);
  out["hand"] = text_or_null(scene.text(graph.hand));
  out["slot"] = graph.slot < scene.build.fits.size() ? Json(scene.text(scene.build.fits[graph.slot].name))
                                                     : Json(nullptr);
  out["needed"] = number(graph.needed);
  out["there"] = number(graph.there);
  out["place"] = has_part ? place_json(scene, scene.build.parts[graph.part].span) : Json(nullptr);
  return out;
}

Json report_head(std::string_view report) {
  return {{"program", "matchmark"}, {"version", MATCHMARK_VERSION}, {"report", report}, {"format", 2}};
}

std::string dump(const Json& json) { return json.dump(2, ' ', true) + "\n"; }

}  // namespace mm

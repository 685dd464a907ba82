#include <nlohmann/json.hpp>

#include "messages/message.hpp"
#include "report/json_parts.hpp"
#include "report/list_page.hpp"
#include "report/list_words.hpp"
#include "report/phrases.hpp"

namespace mm {

namespace {

Json attributes_json(const Offer& offer, const Schema& schema, bool of_kind) {
  Json out = Json::array();
  for (const AttributeDef* attribute : stated(schema, of_kind))
    out.push_back({{"name", name_text(offer, attribute->name)},
                   {"type", type_words(offer, *attribute)},
                   {"range", text_or_null(range_words(offer, *attribute))},
                   {"doc", text_or_null(printable(attribute->doc))},
                   {"measure", text_or_null(printable(attribute->measure))}});
  return out;
}

Json rules_json(const Offer& offer, const std::vector<std::string>& wanted) {
  Json out = Json::array();
  for (const RuleDef& rule : offer.model.rules) {
    if (!is_wanted(offer, rule.name, wanted)) continue;
    Json parts = Json::array(), requirements = Json::array();
    for (const RuleDef::Variable& variable : rule.variables)
      parts.push_back({{"name", name_text(offer, variable.name)},
                       {"kind", variable.kind ? Json(name_text(offer, offer.model.kinds[variable.kind].name))
                                              : Json(nullptr)}});
    for (const RequirementId requirement : rule.requirements)
      requirements.push_back(name_text(offer, offer.model.requirements[requirement].name));
    out.push_back({{"name", name_text(offer, rule.name)},
                   {"doc", text_or_null(printable(rule.doc))},
                   {"place", place_json(offer.sources, rule.span)},
                   {"parts", std::move(parts)},
                   {"where", rule.where_expr ? Json(text_of(offer, rule.where_expr)) : Json(nullptr)},
                   {"requirements", std::move(requirements)}});
  }
  return out;
}

Json requirements_json(const Offer& offer, const std::vector<std::string>& wanted) {
  Json out = Json::array();
  for (const RequirementDef& requirement : offer.model.requirements) {
    if (is_of_trial(offer, requirement) || !is_wanted(offer, requirement.name, wanted)) continue;
    const bool hazard = static_cast<bool>(requirement.hazard);
    out.push_back(
        {{"name", name_text(offer, requirement.name)},
         {"of", requirement.interface ? "interface" : "rule"},
         {"owner", name_text(offer, requirement.owner)},
         {"weight", weight_word(requirement.weight)},
         {"test", text_of(offer, requirement.test_expr)},
         {"when", requirement.when_expr ? Json(text_of(offer, requirement.when_expr)) : Json(nullptr)},
         {"settles_at", text_or_null(gate_word(requirement.settles_at))},
         {"hazard", hazard ? Json(name_text(offer, requirement.hazard)) : Json(nullptr)},
         {"source", text_or_null(printable(requirement.source))},
         {"place", place_json(offer.sources, requirement.span)}});
  }
  return out;
}

}  // namespace

std::string list_json(const Offer& offer, const std::vector<std::string>& wanted) {
  Json out = report_head("list");
  out["exit_status"] = 0;
  out["kinds"] = Json::array();
  for (const KindDef& kind : offer.model.kinds) {
    if (!is_wanted(offer, kind.name, wanted)) continue;
    Json faces = Json::array();
    for (const FaceDef& face : kind.faces) {
      const InterfaceDef& interface = offer.model.interfaces[face.interface];
      faces.push_back({{"name", name_text(offer, face.name)},
                       {"interface", name_text(offer, interface.name)},
                       {"side", name_text(offer, interface.sides[face.side].name)},
                       {"optional", face.optional}});
    }
    out["kinds"].push_back({{"name", name_text(offer, kind.name)},
                            {"doc", text_or_null(printable(kind.doc))},
                            {"place", place_json(offer.sources, kind.span)},
                            {"attributes", attributes_json(offer, kind.schema, true)},
                            {"faces", std::move(faces)}});
  }
  out["interfaces"] = Json::array();
  for (const InterfaceDef& interface : offer.model.interfaces) {
    if (!is_wanted(offer, interface.name, wanted)) continue;
    Json sides = Json::array(), requirements = Json::array();
    for (const SideDef& side : interface.sides)
      sides.push_back({{"name", name_text(offer, side.name)},
                       {"many", side.many},
                       {"attributes", attributes_json(offer, side.schema, false)}});
    for (const RequirementId requirement : interface.requirements)
      requirements.push_back(name_text(offer, offer.model.requirements[requirement].name));
    out["interfaces"].push_back({{"name", name_text(offer, interface.name)},
                                 {"doc", text_or_null(printable(interface.doc))},
                                 {"place", place_json(offer.sources, interface.span)},
                                 {"sides", std::move(sides)},
                                 {"requirements", std::move(requirements)}});
  }
  out["rules"] = rules_json(offer, wanted);
  out["requirements"] = requirements_json(offer, wanted);
  return dump(out);
}

}  // namespace mm

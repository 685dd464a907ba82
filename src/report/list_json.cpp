#include <nlohmann/json.hpp>

#include "messages/message.hpp"
#include "report/json_parts.hpp"
#include "report/list_facts.hpp"
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

Json designations_json(const Offer& offer, const std::vector<std::string>& wanted) {
  Json out = Json::array();
  for (const DesignationDef& size : offer.model.designations) {
    if (!is_wanted(offer, size.name, wanted)) continue;
    Json forms = Json::array();
    for (const FormDef& form : size.forms) {
      Json fields = Json::array();
      for (const FormField& field : fields_of(offer, size, form))
        fields.push_back(
            {{"name", name_text(offer, field.name)},
             {"type", field.type},
             {"written", field.written},
             {"worked_out", field.worked_out ? Json(text_of(offer, field.worked_out)) : Json(nullptr)}});
      forms.push_back({{"name", name_text(offer, form.name)},
                       {"patterns", patterns_of(offer, form)},
                       {"fields", std::move(fields)}});
    }
    out.push_back({{"name", name_text(offer, size.name)},
                   {"doc", text_or_null(printable(size.doc))},
                   {"place", place_json(offer.sources, size.span)},
                   {"forms", std::move(forms)}});
  }
  return out;
}

Json choices_json(const Offer& offer, const std::vector<std::string>& wanted) {
  Json out = Json::array();
  for (const ChoiceDef& choice : offer.model.choices) {
    if (!is_wanted(offer, choice.name, wanted)) continue;
    Json words = Json::array();
    for (const Symbol word : choice.words) words.push_back(name_text(offer, word));
    out.push_back({{"name", name_text(offer, choice.name)},
                   {"place", place_json(offer.sources, choice.span)},
                   {"words", std::move(words)}});
  }
  return out;
}

Json tables_json(const Offer& offer, const std::vector<std::string>& wanted) {
  Json out = Json::array();
  for (const TableDef& table : offer.model.tables) {
    if (!is_wanted(offer, table.name, wanted)) continue;
    Json columns = Json::array(), sources = Json::array();
    for (std::size_t i = 0; i < table.columns.size(); ++i)
      columns.push_back({{"name", name_text(offer, table.columns[i].name)},
                         {"type", type_words(offer, table.columns[i])},
                         {"range", static_cast<bool>(table.key_range[i])}});
    for (const std::string& source : table.sources) sources.push_back(printable(source));
    out.push_back({{"name", name_text(offer, table.name)},
                   {"doc", text_or_null(printable(table.doc))},
                   {"place", place_json(offer.sources, table.span)},
                   {"columns", std::move(columns)},
                   {"rows", table.rows.size()},
                   {"sources", std::move(sources)}});
  }
  return out;
}

Json formulas_json(const Offer& offer, const std::vector<std::string>& wanted) {
  Json out = Json::array();
  for (const FormulaDef& formula : offer.model.formulas) {
    if (!is_wanted(offer, formula.name, wanted)) continue;
    Json parameters = Json::array();
    for (const NamedType& parameter : formula.parameters)
      parameters.push_back(
          {{"name", name_text(offer, parameter.name)}, {"type", type_words(offer, parameter)}});
    out.push_back({{"name", name_text(offer, formula.name)},
                   {"place", place_json(offer.sources, formula.span)},
                   {"parameters", std::move(parameters)},
                   {"result", type_words(offer, formula.result)},
                   {"body", text_of(offer, formula.body)},
                   {"source", text_or_null(printable(formula.source))}});
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
  out["designations"] = designations_json(offer, wanted);
  out["choices"] = choices_json(offer, wanted);
  out["tables"] = tables_json(offer, wanted);
  out["formulas"] = formulas_json(offer, wanted);
  out["rules"] = rules_json(offer, wanted);
  out["requirements"] = requirements_json(offer, wanted);
  return dump(out);
}

}  // namespace mm

// Rules and requirements by name: the condition as it is written, and where it comes from.
#include "messages/message.hpp"
#include "report/list_page.hpp"
#include "report/list_words.hpp"
#include "report/page.hpp"
#include "report/phrases.hpp"

namespace mm {

namespace {

void tell_requirement(Page& page, const Offer& offer, const RequirementDef& requirement) {
  const std::string head =
      std::string(weight_word(requirement.weight)) + " " + name_text(offer, requirement.name);
  page.blank();
  page.text(head + ", of " + (requirement.interface ? "interface " : "rule ") +
                name_text(offer, requirement.owner) + " (" + declared_at(offer, requirement.span) + ")",
            0, 4, Tone::bold, head.size());
  std::string condition = text_of(offer, requirement.test_expr);
  if (requirement.when_expr) condition += " when " + text_of(offer, requirement.when_expr);
  page.text(condition, 2, 6);
  page.text(
      "source: " + (requirement.source.empty() ? std::string("none given") : printable(requirement.source)),
      2, 6);
}

void tell_rule(Page& page, const Offer& offer, const RuleDef& rule) {
  const std::string name = name_text(offer, rule.name);
  page.blank();
  page.text("rule " + name + (rule.doc.empty() ? "" : ": " + printable(rule.doc)) + " (" +
                declared_at(offer, rule.span) + ")",
            0, 4, Tone::bold, 5 + name.size());
  std::vector<std::string> parts, names;
  for (const RuleDef::Variable& variable : rule.variables)
    parts.push_back(variable.kind ? name_text(offer, offer.model.kinds[variable.kind].name) : "any part");
  if (!parts.empty()) page.text("for " + listed(parts), 2, 6);
  for (const RequirementId requirement : rule.requirements)
    names.push_back(name_text(offer, offer.model.requirements[requirement].name));
  if (!names.empty()) page.text("checks " + listed(names), 2, 6);
}

}  // namespace

std::vector<std::string> checked_names(const Offer& offer) {
  std::vector<std::string> out;
  for (const RuleDef& rule : offer.model.rules) out.emplace_back(offer.names.text(rule.name));
  for (const RequirementDef& requirement : offer.model.requirements)
    if (!is_of_trial(offer, requirement)) out.emplace_back(offer.names.text(requirement.name));
  return out;
}

std::string list_checks(const Offer& offer, const std::vector<std::string>& wanted, bool colour) {
  Page page(colour);
  for (const RuleDef& rule : offer.model.rules)
    if (is_wanted(offer, rule.name, wanted)) tell_rule(page, offer, rule);
  for (const RequirementDef& requirement : offer.model.requirements)
    if (!is_of_trial(offer, requirement) && is_wanted(offer, requirement.name, wanted))
      tell_requirement(page, offer, requirement);
  return page.str();
}

}  // namespace mm

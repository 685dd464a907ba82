#include <algorithm>
#include <set>

#include "report/phrases.hpp"
#include "report/why_page.hpp"

namespace mm {

namespace {

/// An `expect that`.
bool is_of_trial(const Model& model, const RequirementDef& requirement) {
  return !requirement.interface && requirement.rule >= model.rules.size();
}

/// Of what the rule is for the build has none, or none for which its condition holds.
std::string not_matched_text(const Scene& scene, const RuleDef& rule) {
  for (const RuleDef::Variable& variable : rule.variables) {
    const auto is_one = [&](const Instance& instance) { return instance.kind == variable.kind; };
    const auto& instances = scene.build.instances;
    if (variable.kind && std::none_of(instances.begin(), instances.end(), is_one))
      return "no " + scene.text(scene.model().kinds[variable.kind].name) + " is in the build";
  }
  return rule.where_expr ? "its \"where\" holds for no parts in the build"
                         : "no parts in the build are ones that the rule is for";
}

}  // namespace

std::vector<std::size_t> matching_findings(const Scene& scene, const WhyQuery& query) {
  std::vector<std::size_t> out;
  for (std::size_t i = 0; i < scene.results.findings.size(); ++i) {
    const Finding& finding = scene.results.findings[i];
    const RequirementDef& requirement = scene.requirement(finding);
    const std::string name = scene.text(requirement.name);
    if (query.requirement != name && query.requirement != scene.text(requirement.owner) + "." + name)
      continue;
    if (!query.subjects.empty()) {
      const auto names = subject_names(scene, finding);
      const auto is_named = [&](const std::string& subject) {
        return std::find(names.begin(), names.end(), subject) != names.end();
      };
      if (!std::all_of(query.subjects.begin(), query.subjects.end(), is_named)) continue;
    }
    out.push_back(i);
  }
  return out;
}

std::vector<std::string> known_requirements(const Scene& scene) {
  std::set<std::string> names;
  for (const RequirementDef& known : scene.model().requirements)
    if (!is_of_trial(scene.model(), known)) names.insert(scene.text(known.name));
  return {names.begin(), names.end()};
}

std::string not_judged_text(const Scene& scene, const std::string& requirement) {
  for (const RequirementDef& known : scene.model().requirements) {
    const std::string name = scene.text(known.name), owner = scene.text(known.owner);
    if (is_of_trial(scene.model(), known) || (requirement != name && requirement != owner + "." + name))
      continue;
    return "\"" + name + "\" is a requirement of " + (known.interface ? "interface " : "rule ") + owner +
           " at " + where(scene, known.span) +
           (known.interface ? "; no joint of that interface is in the build"
                            : "; " + not_matched_text(scene, scene.model().rules[known.rule]));
  }
  return {};
}

std::vector<std::string> known_subjects(const Scene& scene, const std::string& requirement) {
  std::set<std::string> names;
  for (const std::size_t i : matching_findings(scene, {requirement, {}}))
    for (std::string& name : subject_names(scene, scene.results.findings[i])) names.insert(std::move(name));
  return {names.begin(), names.end()};
}

}  // namespace mm

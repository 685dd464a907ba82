#include <algorithm>
#include <set>

#include "report/why_page.hpp"

namespace mm {

std::vector<std::size_t> matching_findings(const Scene& scene, const WhyQuery& query) {
  std::vector<std::size_t> out;
  for (std::size_t i = 0; i < scene.results.findings.size(); ++i) {
    const Finding& finding = scene.results.findings[i];
    const RequirementDef& requirement = scene.requirement(finding);
    const std::string name = scene.text(requirement.name);
    if (query.requirement != name && query.requirement != scene.text(requirement.owner) + "." + name)
      continue;
    if (!query.subject.empty()) {
      const auto names = subject_names(scene, finding);
      if (std::find(names.begin(), names.end(), query.subject) == names.end()) continue;
    }
    out.push_back(i);
  }
  return out;
}

std::vector<std::string> known_requirements(const Scene& scene) {
  std::set<std::string> names;
  for (const Finding& finding : scene.results.findings)
    names.insert(scene.text(scene.requirement(finding).name));
  return {names.begin(), names.end()};
}

std::vector<std::string> known_subjects(const Scene& scene, const std::string& requirement) {
  std::set<std::string> names;
  for (const std::size_t i : matching_findings(scene, {requirement, {}}))
    for (std::string& name : subject_names(scene, scene.results.findings[i])) names.insert(std::move(name));
  return {names.begin(), names.end()};
}

}  // namespace mm

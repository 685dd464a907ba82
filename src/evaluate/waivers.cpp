#include "evaluate/waivers.hpp"

#include <algorithm>

namespace mm {

Waivers::Waivers(const Build& build) : build_(build) {
  for (std::uint32_t i = 0; i < build.waivers.size(); ++i)
    by_requirement_[build.waivers[i].requirement][build.waivers[i].fit_name].push_back(i);
}

void Waivers::add(const BySubject& waivers, Symbol subject, std::vector<std::uint32_t>& to) const {
  const auto found = waivers.find(subject);
  if (found != waivers.end()) to.insert(to.end(), found->second.begin(), found->second.end());
}

void Waivers::add(const BySubject& waivers, EntityId entity, std::vector<std::uint32_t>& to) const {
  if (!entity) return;
  const Instance& instance = build_.instances[build_.entities[entity].instance];
  const auto found = waivers.find(instance.fit_name);
  if (found == waivers.end() || !instance.fit_name) return;
  for (const std::uint32_t i : found->second) {
    const Symbol place = build_.waivers[i].place;
    if (!place || place == instance.place) to.push_back(i);
  }
}

std::uint32_t Waivers::over(const RequirementDef& requirement, const Binding& binding) const {
  if (by_requirement_.empty()) return no_reg;
  const auto found = by_requirement_.find(requirement.name);
  if (found == by_requirement_.end()) return no_reg;
  std::vector<std::uint32_t> here;
  add(found->second, Symbol(), here);
  if (binding.joint != no_reg && build_.joints[binding.joint].label)
    add(found->second, build_.joints[binding.joint].label, here);
  for (const EntityId entity : binding.locals) add(found->second, entity, here);
  for (const auto& list : binding.lists)
    for (const EntityId entity : list) add(found->second, entity, here);
  std::sort(here.begin(), here.end());
  std::uint32_t best = no_reg;
  for (const std::uint32_t i : here) {
    if (best == no_reg) {
      best = i;
      continue;
    }
    const std::string& until = build_.waivers[best].until;
    const std::string& its = build_.waivers[i].until;
    if (!until.empty() && (its.empty() || its > until)) best = i;
  }
  return best;
}

}  // namespace mm

#include "evaluate/waivers.hpp"

#include <algorithm>

namespace mm {

Waivers::Waivers(const Build& build) : build_(build) {
  for (std::uint32_t i = 0; i < build.waivers.size(); ++i) {
    const Waiver& waiver = build.waivers[i];
    OfRequirement& its = by_requirement_[waiver.requirement];
    for (std::uint32_t* best :
         {&its.by_name.emplace(waiver.fit_name, i).first->second,
          &its.by_place.emplace(std::pair(waiver.fit_name, waiver.place), i).first->second})
      *best = better(*best, i);
  }
}

std::uint32_t Waivers::better(std::uint32_t one, std::uint32_t other) const {
  if (one == no_reg || other == no_reg) return one == no_reg ? other : one;
  const std::string& a = build_.waivers[one].until;
  const std::string& b = build_.waivers[other].until;
  if (a == b) return std::min(one, other);
  return a.empty() || (!b.empty() && a > b) ? one : other;
}

std::uint32_t Waivers::over(const RequirementDef& requirement, const Binding& binding) const {
  if (by_requirement_.empty()) return no_reg;
  const auto found = by_requirement_.find(requirement.name);
  if (found == by_requirement_.end()) return no_reg;
  const OfRequirement& its = found->second;
  std::uint32_t best = no_reg;
  const auto add = [&](const auto& waivers, const auto& key) {
    if (const auto at = waivers.find(key); at != waivers.end()) best = better(best, at->second);
  };
  const auto add_entity = [&](EntityId entity) {
    if (!entity) return;
    const Instance& instance = build_.instances[build_.entities[entity].instance];
    if (!instance.fit_name) return;
    add(its.by_place, std::pair(instance.fit_name, Symbol()));
    add(its.by_place, std::pair(instance.fit_name, instance.place));
  };
  add(its.by_name, Symbol());
  if (binding.joint != no_reg && build_.joints[binding.joint].label)
    add(its.by_name, build_.joints[binding.joint].label);
  for (const EntityId entity : binding.locals) add_entity(entity);
  for (const auto& list : binding.lists)
    for (const EntityId entity : list) add_entity(entity);
  return best;
}

}  // namespace mm

#include "evaluate/reach.hpp"

#include <algorithm>

namespace mm {

std::size_t find_reachable(const BuildIndex& index, EntityId from, std::span<const InterfaceId> through,
                           KindId kind, std::size_t most, std::vector<EntityId>& out) {
  const Build& build = index.build;
  std::vector<char> seen(build.instances.size(), 0);
  std::vector<std::uint32_t> queue;
  const std::uint32_t start = build.entities[from].instance;
  seen[start] = 1;
  const auto leave_by = [&](EntityId face) {
    const std::uint32_t joint = build.entities[face].joint;
    if (joint == no_reg) return;
    const Joint& j = build.joints[joint];
    if (std::find(through.begin(), through.end(), j.interface) == through.end()) return;
    for (const std::vector<EntityId>& side : j.sides) {
      for (const EntityId other : side) {
        const std::uint32_t instance = build.entities[other].instance;
        if (seen[instance] != 0) continue;
        seen[instance] = 1;
        queue.push_back(instance);
      }
    }
  };
  if (build.entities[from].face != no_reg) {
    leave_by(from);
  } else {
    for (const EntityId face : build.instances[start].faces) leave_by(face);
  }
  for (std::size_t i = 0; i < queue.size() && i <= most; ++i) {
    const Instance& instance = build.instances[queue[i]];
    if (!kind || instance.kind == kind) out.push_back(instance.entity);
    for (const EntityId face : instance.faces) leave_by(face);
  }
  return std::min(queue.size(), most < SIZE_MAX ? most + 1 : most);
}

}  // namespace mm

// What is joined to a part or a face, over whatever lies between.
#pragma once
#include "evaluate/build_index.hpp"

namespace mm {

struct Reached {
  std::vector<EntityId> entities;
  std::size_t visited = 0;  // parts, of whatever kind
  bool all = true;          // else it was given up there, and `entities` holds none
};

/// Parts reachable from a part or a face through joints of some interfaces, by breadth, without the start's
/// own. Gives how many parts were visited; it stops at one more than `most`.
std::size_t find_reachable(const BuildIndex& index, EntityId from, std::span<const InterfaceId> through,
                           KindId kind, std::size_t most, std::vector<EntityId>& out);

}  // namespace mm

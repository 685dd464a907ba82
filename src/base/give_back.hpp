// Lists that are done with.
#pragma once
#include <vector>

namespace mm {

/// Empties it and gives back its room, which `list = {}` would keep.
template <class T>
void give_back(std::vector<T>& list) {
  std::vector<T>().swap(list);
}

}  // namespace mm

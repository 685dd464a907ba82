// The paths of assignments as symbols, each once: front.bore is one id wherever it stands and however it was
// written.
#pragma once
#include "base/hash.hpp"
#include "syntax/tree_values.hpp"

namespace mm {

class Paths {
 public:
  /// `outer` and one name more; outer none: the name alone.
  PathId step(PathId outer, Symbol name) {
    const std::uint64_t hash = mixed(outer.index, name.index);
    const std::uint32_t known = index_.find(hash, [&](std::uint32_t i) {
      const Node& node = nodes_[i];
      return node.outer == outer && node.name == name;
    });
    if (known != IndexTable::none) return PathId{known};
    const PathId made{nodes_.size()};
    nodes_.push_back({outer, name, length(outer) + 1});
    index_.add(hash, made.index);
    return made;
  }

  PathId outer(PathId path) const { return nodes_[path.index].outer; }
  Symbol last(PathId path) const { return nodes_[path.index].name; }
  std::uint32_t length(PathId path) const { return path ? nodes_[path.index].length : 0; }
  std::size_t size() const { return nodes_.size(); }

 private:
  struct Node {
    PathId outer;
    Symbol name;
    std::uint32_t length;
  };
  std::vector<Node> nodes_;
  IndexTable index_;
};

}  // namespace mm

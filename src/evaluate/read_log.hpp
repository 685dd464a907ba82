// The cells that a machine reads while it has the log.
#pragma once
#include <vector>

#include "evaluate/cell_map.hpp"

namespace mm {

/// Each cell once, in the order in which they were first read.
class ReadLog {
 public:
  void start() {
    cells_.clear();
    known_.clear();
    ++session_;
  }
  void add(CellId cell) {
    if (known_.set(cell, 0)) cells_.push_back(cell);
  }
  const std::vector<CellId>& cells() const { return cells_; }
  /// Differs from one start to the next.
  std::uint64_t session() const { return session_; }

 private:
  CellMap known_;
  std::vector<CellId> cells_;
  std::uint64_t session_ = 0;
};

}  // namespace mm

#include "evaluate/machine.hpp"

namespace mm {

void ReadLog::start(std::size_t cells) {
  if (mark_.size() < cells) mark_.resize(cells, 0);
  ++epoch_;
  cells_.clear();
}

void ReadLog::add(CellId cell) {
  if (mark_[cell.index] == epoch_) return;
  mark_[cell.index] = epoch_;
  cells_.push_back(cell);
}

}  // namespace mm

// Numbers by cell, few at a time: it lies in as much memory as it holds, however many cells a build has.
#pragma once
#include <vector>

#include "model/model.hpp"

namespace mm {

class CellMap {
 public:
  static constexpr std::uint32_t none = 0xffffffffU;

  std::uint32_t find(CellId cell) const {
    for (std::size_t at = home_of(cell.index);; at = (at + 1) & mask_) {
      const Slot& slot = slots_[at];
      if (slot.cell == cell.index) return slot.value;
      if (slot.cell == none) return none;
    }
  }
  /// Whether it was not there before.
  bool set(CellId cell, std::uint32_t value) {
    if (2 * (size_ + 1) > slots_.size()) grow();
    Slot& slot = slots_[place_of(cell.index)];
    const bool is_new = slot.cell == none;
    slot = {cell.index, value};
    size_ += is_new ? 1 : 0;
    return is_new;
  }
  void erase(CellId cell) {
    std::size_t hole = place_of(cell.index);
    if (slots_[hole].cell == none) return;
    --size_;
    // what was pushed on by others closes up
    for (std::size_t at = (hole + 1) & mask_; slots_[at].cell != none; at = (at + 1) & mask_) {
      const std::size_t home = home_of(slots_[at].cell);
      if (((at - home) & mask_) < ((at - hole) & mask_)) continue;
      slots_[hole] = slots_[at];
      hole = at;
    }
    slots_[hole] = {};
  }
  /// Costs what was in it, not what once was.
  void clear() {
    if (size_ == 0) return;
    slots_.assign(first_size, {});
    mask_ = first_size - 1;
    shift_ = 64 - first_bits;
    size_ = 0;
  }
  std::size_t size() const { return size_; }

 private:
  struct Slot {
    std::uint32_t cell = none, value = none;
  };

  /// Cells that follow each other, as those of a part do, are strewn: runs of them would be walked through.
  std::size_t home_of(std::uint32_t cell) const {
    return (cell * std::uint64_t{0x9E3779B97F4A7C15U}) >> shift_;
  }
  /// Where the cell stands, or would.
  std::size_t place_of(std::uint32_t cell) const {
    std::size_t at = home_of(cell);
    while (slots_[at].cell != cell && slots_[at].cell != none) at = (at + 1) & mask_;
    return at;
  }
  void grow() {
    std::vector<Slot> old(2 * slots_.size());
    old.swap(slots_);
    mask_ = slots_.size() - 1;
    --shift_;
    for (const Slot& slot : old)
      if (slot.cell != none) slots_[place_of(slot.cell)] = slot;
  }

  static constexpr unsigned first_bits = 7;
  static constexpr std::size_t first_size = std::size_t{1} << first_bits;
  std::vector<Slot> slots_ = std::vector<Slot>(first_size);
  std::size_t mask_ = first_size - 1;
  unsigned shift_ = 64 - first_bits;
  std::size_t size_ = 0;
};

}  // namespace mm

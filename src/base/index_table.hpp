// Finds items of a list by their hash: an open table of their numbers, for lists that only grow.
#pragma once
#include <cstddef>
#include <cstdint>
#include <vector>

namespace mm {

/// The items themselves, and how two are compared, are the owner's.
class IndexTable {
 public:
  static constexpr std::uint32_t none = 0xffffffffU;

  /// The item with this hash that `is_it(item)` is true of, or none.
  template <class IsIt>
  std::uint32_t find(std::uint64_t hash, IsIt&& is_it) const {
    if (slots_.empty()) return none;
    for (std::size_t at = hash & mask();; at = (at + 1) & mask()) {
      const Slot& slot = slots_[at];
      if (slot.item == none) return none;
      if (slot.tag == tag_of(hash) && is_it(slot.item)) return slot.item;
    }
  }

  /// Adds an item that is not there.
  void add(std::uint64_t hash, std::uint32_t item) {
    if (2 * (size_ + 1) > slots_.size()) grow();
    put({tag_of(hash), item}, hash);
    ++size_;
  }
  std::size_t size() const { return size_; }

 private:
  struct Slot {
    std::uint32_t tag = 0;
    std::uint32_t item = none;
  };

  std::size_t mask() const { return slots_.size() - 1; }
  /// The bits by which a slot is chosen again when the table grows; tables stay below 2^32 slots.
  static std::uint32_t tag_of(std::uint64_t hash) { return static_cast<std::uint32_t>(hash); }

  void put(Slot slot, std::uint64_t hash) {
    std::size_t at = hash & mask();
    while (slots_[at].item != none) at = (at + 1) & mask();
    slots_[at] = slot;
  }
  void grow() {
    std::vector<Slot> old(slots_.empty() ? 64 : 2 * slots_.size());
    old.swap(slots_);
    for (const Slot& slot : old)
      if (slot.item != none) put(slot, slot.tag);
  }

  std::vector<Slot> slots_;
  std::size_t size_ = 0;
};

}  // namespace mm

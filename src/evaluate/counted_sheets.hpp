// A part's `quantity` says how many pieces there are of it, wherever they are fitted: a sum that reads it
// takes each part sheet once, at the first of its fits that is meant.
#pragma once
#include <unordered_set>

#include "evaluate/build_index.hpp"

namespace mm {

/// The sheets that a sum has taken so far, in one state of the build; of any other quantifier none.
class CountedSheets {
 public:
  CountedSheets(const Quantifier& q, const World& world) : world_(q.once_a_sheet ? &world : nullptr) {}

  /// Whether each sheet is to be taken once.
  bool any() const { return world_ != nullptr; }
  /// Of a part or face, where `any`.
  std::uint32_t sheet_of(EntityId item) const { return world_->part_at(item); }
  bool has(EntityId item) const { return any() && counted_.contains(sheet_of(item)); }
  /// It is surely meant.
  void add(EntityId item) {
    if (any()) counted_.insert(sheet_of(item));
  }

 private:
  const World* world_;
  std::unordered_set<std::uint32_t> counted_;
};

}  // namespace mm

// The box of possible values over which a machine runs: every cell's range, narrowed here and there while
// splitting or while one world is tried.
#pragma once
#include <deque>
#include <vector>

#include "evaluate/build_index.hpp"

namespace mm {

/// Narrowing a cell costs nothing for the others; `release` gives a cell its full range again.
class Box {
 public:
  explicit Box(const BuildIndex& index);

  const Interval& number(CellId cell) const { return numbers_[cell.index]; }
  const Rational* point(CellId cell) const { return points_[cell.index]; }
  const SymbolicSet* symbols(CellId cell) const { return symbols_[cell.index]; }
  ExactInterval exact(CellId cell) const;

  /// `range` must lie inside the cell's exact range, up to outward rounding of its ends.
  void narrow(CellId cell, const Interval& range);
  void narrow_exact(CellId cell, const ExactInterval& range);
  void narrow_symbols(CellId cell, const SymbolicSet* set) { symbols_[cell.index] = set; }
  void release(CellId cell);
  /// Has its full range.
  bool is_free(CellId cell) const;

 private:
  void give_back(CellId cell);

  const BuildIndex* index_;
  std::vector<Interval> numbers_;
  std::vector<const Rational*> points_;
  std::vector<const SymbolicSet*> symbols_;
  std::vector<std::uint32_t> narrowed_;  // slot in exact_, or how the range is given
  std::deque<ExactInterval> exact_;      // of cells narrowed exactly; addresses stay
  std::vector<std::uint32_t> free_;      // unused slots
};

}  // namespace mm

// The box of possible values over which a machine runs: every cell's range, narrowed here and there while
// splitting or while one world is tried.
#pragma once
#include <array>
#include <deque>
#include <vector>

#include "evaluate/build_index.hpp"
#include "evaluate/hangs.hpp"

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
  void narrow_symbols(CellId cell, const SymbolicSet* set);
  void release(CellId cell);
  /// Has its full range.
  bool is_free(CellId cell) const;

  /// Puts a cell at an end of its range until `leave_ends`; false where that end is infinite or there is no
  /// value. A cell is put at one end at a time, and not narrowed meanwhile.
  bool to_end(CellId cell, bool high);
  /// At the end that is finite, or at 0: for a value that makes no difference.
  void to_some_point(CellId cell);
  /// How many cells stand at an end; those beyond `count` go back to the ranges they had.
  std::size_t at_ends() const { return ends_.size(); }
  void leave_ends(std::size_t count);

  /// How often the box was changed up to now.
  std::uint64_t moment() const { return moment_; }
  /// On which cells something must hang to have changed since.
  Hangs changed_since(std::uint64_t moment) const;

 private:
  struct End {
    CellId cell;
    std::uint32_t narrowed;
    const Rational* point;
    Interval number;
  };

  void give_back(CellId cell);
  void changes(CellId cell) { changed_at_[cell.index % cell_bits] = ++moment_; }
  const ExactInterval& range_of(CellId cell);
  void stand_at(CellId cell, const Rational& point, const Interval& number);

  const BuildIndex* index_;
  std::vector<Interval> numbers_;
  std::vector<const Rational*> points_;
  std::vector<const SymbolicSet*> symbols_;
  std::vector<std::uint32_t> narrowed_;  // slot in exact_, or how the range is given
  std::deque<ExactInterval> exact_;      // of cells narrowed exactly; addresses stay
  std::vector<std::uint32_t> free_;      // unused slots
  std::vector<End> ends_;                // what was there before
  std::uint64_t moment_ = 0;
  std::array<std::uint64_t, cell_bits> changed_at_{};  // by the cells' bits
};

}  // namespace mm

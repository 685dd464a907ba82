// The box of possible values over which a machine runs: every cell's range, narrowed here and there while
// splitting or while one world is tried.
#pragma once
#include <array>
#include <deque>
#include <vector>

#include "evaluate/build_index.hpp"
#include "evaluate/cell_map.hpp"
#include "evaluate/hangs.hpp"

namespace mm {

/// Holds only what is narrowed: nearly every cell has the range that the index gives.
class Box {
 public:
  explicit Box(const BuildIndex& index) : index_(&index) {}

  Interval number(CellId cell) const {
    const std::uint32_t at = narrowed_.find(cell);
    return at == as_given ? index_->number(cell) : ranges_[at].number;
  }
  /// Null where it is not known exactly. Good until the cell is narrowed otherwise.
  const Rational* point(CellId cell) const {
    const std::uint32_t at = narrowed_.find(cell);
    return at == as_given ? index_->point(cell) : ranges_[at].point;
  }
  const SymbolicSet* symbols(CellId cell) const {
    const std::uint32_t at = narrowed_.find(cell);
    return at == as_given ? index_->symbols(cell) : ranges_[at].symbols;
  }
  ExactInterval exact(CellId cell) const;

  /// `range` must lie inside the cell's exact range, up to outward rounding of its ends.
  void narrow(CellId cell, const Interval& range);
  void narrow_exact(CellId cell, const ExactInterval& range);
  void narrow_symbols(CellId cell, const SymbolicSet* set);
  /// Gives a cell its full range again.
  void release(CellId cell);
  /// Has its full range.
  bool is_free(CellId cell) const { return narrowed_.find(cell) == as_given; }

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
  static constexpr std::uint32_t as_given = CellMap::none;

  struct Range {
    enum class Told : std::uint8_t { doubles, exactly, point };
    Told told = Told::exactly;
    Interval number;
    const Rational* point = nullptr;
    const SymbolicSet* symbols = nullptr;
    ExactInterval exact;  // where told exactly
  };
  struct End {
    CellId cell;
    std::uint32_t before;  // what narrowed it
  };

  /// The cell's own range to fill; a new one where it had none.
  Range& own(CellId cell);
  std::uint32_t take();
  const ExactInterval& range_of(CellId cell);
  void stand_at(CellId cell, const Rational& point, const Interval& number);
  void changes(CellId cell) {
    const std::uint32_t bit = cell.index % cell_bits;
    changed_at_[bit] = ++moment_;
    latest_[moment_ % latest_.size()] = static_cast<std::uint8_t>(bit);
  }

  const BuildIndex* index_;
  CellMap narrowed_;                   // into ranges_
  std::deque<Range> ranges_;           // addresses stay
  std::vector<std::uint32_t> unused_;  // of them
  std::vector<End> ends_;
  std::uint64_t moment_ = 0;
  std::array<std::uint64_t, cell_bits> changed_at_{};  // by the cells' bits
  std::array<std::uint8_t, 16> latest_{};              // the bits of the latest changes, by their moments
};

}  // namespace mm

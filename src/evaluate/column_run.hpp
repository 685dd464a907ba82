// Runs a column plan over rows of a table, a block of rows at a time: what is worked out stays in a near
// cache, and of each column a piece of some pages is read, which the processor foresees.
//
// Outward: bounds are rounded away from each other, so a comparison that they decide is decided. Inward: the
// same operations with bounds rounded towards each other, on operands narrowed by one unit in the last place:
// then there are values (in one world, if the plan reads each of them once) at or beyond each bound, so what
// the inward bounds leave open is open in truth and not by rounding. A bound that rounding has carried past
// the other one says the same and is no error.
#pragma once
#include <limits>
#include <memory>

#include "evaluate/column_table.hpp"

namespace mm {

enum class Rounded : std::uint8_t { outward, inward };

/// Answers for one block of rows. `bits` has no meaning where `hard`.
struct ColumnAnswers {
  const Bits* bits = nullptr;
  std::vector<char> hard;
  /// Of a plan that is one comparison of numbers: room to spare, upper side less lower side, as (-lo, hi).
  std::vector<double> neg_least, most;
};

class ColumnRun {
 public:
  static constexpr std::size_t block = 1024;

  /// `slack`: room to spare is wanted.
  ColumnRun(const Model& model, const ColumnPlan& plan, ColumnTable& table, Rounded rounded, bool slack);

  /// At most `block` rows. Rounding must be upward for outward, downward for inward.
  void run(const RowSpan& rows, ColumnAnswers& answers);

 private:
  /// Taken from a bound while rounding is downward, it gives the double below it, or (next to zero) one
  /// below that; added while rounding is upward, likewise above it.
  static constexpr double least_step = std::numeric_limits<double>::min();

  struct Values {  // one column of the plan over the block: in the table, or in room of its own
    const double* neg_lo = nullptr;
    const double* hi = nullptr;
    const std::uint32_t* symbols = nullptr;
    double* own_neg_lo = nullptr;
    double* own_hi = nullptr;
    std::uint32_t* own_symbols = nullptr;
    Bits* bits = nullptr;
    bool plain = false;  // known to be so, as in interval_pack.hpp
  };
  /// Room for one column, of which only one sort is used.
  struct Room {
    alignas(64) double neg_lo[block];  // no pack lies across two lines of the cache
    double hi[block];
    std::uint32_t symbols[block];
    Bits bits[block];
  };

  void load(const ColumnOp& op, const RowSpan& rows);
  void load_numbers(const ColumnNumbers& numbers, const RowSpan& rows, Values& out);
  void items(const ColumnOp& op, const RowSpan& rows);
  void constant(const ColumnOp& op);
  void arithmetic(const ColumnOp& op, std::size_t count);
  template <class Packed, class Single>
  void by_packs(const ColumnOp& op, std::size_t count, Packed packed, Single single);
  void product(const ColumnOp& op, std::size_t count);
  void quotient(const ColumnOp& op, std::size_t count);
  void root(const ColumnOp& op, std::size_t count);
  void compare(const ColumnOp& op, std::size_t count);
  void same(const ColumnOp& op, std::size_t count);
  Values& fill(const ColumnOp& op);

  const Model& model_;
  const ColumnPlan& plan_;
  const ColumnTable& table_;
  std::vector<std::size_t> columns_;  // of the table, by source
  std::unique_ptr<Room[]> room_;
  std::vector<Values> values_;
  std::size_t most_;  // rows of a block
  Rounded rounded_;
  bool slack_;
  double inward_;  // what bounds are narrowed by
  bool constants_stand_ = false;
  char* hard_ = nullptr;
};

}  // namespace mm

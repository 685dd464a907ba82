// A quick look at sheets of parts that no build uses.
#pragma once
#include "resolve/quantities.hpp"

namespace mm {

/// Large catalogues are mostly right, and most of their parts are in no build. To know that a sheet is right
/// takes no exact numbers and no cells: names must be known, dimensions equal, and ends in order by more than
/// doubles can be off. What a path of a kind stands for, and what a unit means there, is found once for all
/// sheets. Whatever is not plainly right is left to `assign`, which alone words messages.
class QuickCheck {
 public:
  explicit QuickCheck(Context& context) : context_(context) {}

  /// True only when `assign` would find no fault with these values.
  bool operator()(KindId kind, IdRange<AssignmentId> assignments);

 private:
  static constexpr double infinity = std::numeric_limits<double>::infinity();

  /// What the values of one path of one kind must be.
  struct Column {
    bool looked_up = false;
    const AttributeDef* attribute = nullptr;  // null: the kind has none of this name
    std::size_t sheet = 0;                    // in which it was seen last
    bool takes_any_money = false;             // a price is in any currency
    /// Of the unit that was seen last.
    UnitId unit;
    bool unit_known = false, unit_right = false, unit_is_money = false;
    double low = -infinity, high = infinity;  // amounts in this unit that are surely in the declared range
  };

  Column& column_of(KindId kind, PathId path);
  const AttributeDef* find_attribute(const KindDef& kind, PathId path) const;
  void know_unit(Column& column, const QuantitySyntax& quantity);
  void learn_unit(Column& column, const QuantitySyntax& quantity);
  bool right_spread(const Column& column, QuantityId id);

  bool right(Column& column, const UnknownValue& value);
  bool right(Column& column, const QuantityValue& value);
  bool right(Column& column, const RangeValue& value);
  bool right(Column& column, const WordsValue& value);
  bool right(Column& column, const TextValue& value);
  bool right(Column& column, const DateValue& value);
  bool right(Column& column, const AdjustableValue& value);

  Context& context_;
  std::vector<std::vector<Column>> columns_;  // by kind and path
  std::size_t sheet_ = 0;
  const char* bytes_ = nullptr;  // of the file that the value stands in
};

}  // namespace mm

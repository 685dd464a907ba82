#include "evaluate/table_counts.hpp"

#include <algorithm>
#include <cmath>

namespace mm {

bool has_counts(const Model& model, const TableDef& table, std::size_t column, const Interval& range) {
  if (range.is_empty()) return false;
  const auto states = [&](const ConstValue& cell, double count) {
    if (!cell.number) return false;
    const NumberConst& number = model.numbers[cell.number];
    if (cell.is_range) return number.exact.contains(exact(count));
    return number.bounds.lo() == count && number.bounds.hi == count;
  };
  const double first = std::ceil(range.lo());
  for (std::int64_t i = 0; first + static_cast<double>(i) <= range.hi; ++i) {
    const double count = first + static_cast<double>(i);
    if (std::none_of(table.rows.begin(), table.rows.end(),
                     [&](const auto& row) { return states(row[column], count); }))
      return false;
  }
  return true;
}

}  // namespace mm

#include "evaluate/table_counts.hpp"

#include <algorithm>
#include <cmath>

namespace mm {

bool has_counts(const Model& model, const TableDef& table, std::size_t column, const Interval& range) {
  constexpr double most = 64;
  if (range.is_empty() || !(range.hi - range.lo() < most)) return false;
  const auto states = [&](const ConstValue& cell, const Rational& count) {
    if (!cell.number) return false;
    const ExactInterval& number = model.numbers[cell.number].exact;
    return (cell.is_range || number.is_point()) && number.contains(count);
  };
  for (double count = std::ceil(range.lo()); count <= range.hi; ++count) {
    const Rational whole = exact(count);
    if (std::none_of(table.rows.begin(), table.rows.end(),
                     [&](const auto& row) { return states(row[column], whole); }))
      return false;
  }
  return true;
}

}  // namespace mm

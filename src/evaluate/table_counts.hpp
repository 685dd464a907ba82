// Counts that the rows of a table state one by one.
#pragma once
#include "interval/interval.hpp"
#include "model/model.hpp"

namespace mm {

inline constexpr std::int64_t most_counts = 16;

/// Whether each whole number of the range stands in the column, for sure; the range is narrower than
/// `most_counts`.
bool has_counts(const Model& model, const TableDef& table, std::size_t column, const Interval& range);

}  // namespace mm

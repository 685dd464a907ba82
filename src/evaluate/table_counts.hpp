// Counts that the rows of a table state one by one.
#pragma once
#include "interval/interval.hpp"
#include "model/model.hpp"

namespace mm {

/// Whether each whole number of the range stands in the column, for sure; false for more than a few.
bool has_counts(const Model& model, const TableDef& table, std::size_t column, const Interval& range);

}  // namespace mm

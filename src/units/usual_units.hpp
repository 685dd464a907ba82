// The units that a workshop uses for each dimension.
#pragma once
#include <string>

#include "base/names.hpp"
#include "units/unit_table.hpp"

namespace mm {

/// "mm", "MPa", "N*m"; the base units written out where the trade has no word, no text for a plain number.
Unit usual_unit(const Dimension& dimension, const UnitTable& units, const Names& names);
/// The dimension has one that is no product of base units.
bool has_usual_unit(const Dimension& dimension, const Names& names);
/// For a hint, "mm or in"; "" where the trade has no word.
std::string usual_units_text(const Dimension& dimension, const Names& names);

}  // namespace mm

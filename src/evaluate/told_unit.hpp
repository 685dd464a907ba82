// The unit that a number is told in.
#pragma once
#include <optional>

#include "base/names.hpp"
#include "units/unit_table.hpp"

namespace mm {

/// `wanted` where it has the dimension; else one that reads well, else the product of the base units. None
/// for a plain number, and where a base unit would stand to a broken power.
std::optional<Unit> told_unit(const UnitTable& units, const Names& names, const Dimension& dimension,
                              const Unit* wanted);

}  // namespace mm

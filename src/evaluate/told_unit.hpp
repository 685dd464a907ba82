// The unit that a number is told in.
#pragma once
#include <optional>

#include "base/names.hpp"
#include "units/unit_table.hpp"

namespace mm {

/// `wanted` where it has the dimension; else the usual one. difference: of temperatures. None for a plain
/// number.
std::optional<Unit> told_unit(const UnitTable& units, const Names& names, const Dimension& dimension,
                              const Unit* wanted, bool difference);

}  // namespace mm

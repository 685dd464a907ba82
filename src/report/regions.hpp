// Where values fit and where they do not, in words. Ends are rounded to the careful side; an end that is told
// exactly says whether the very value is meant.
#pragma once
#include "evaluate/results.hpp"
#include "report/scene.hpp"
#include "units/unit_table.hpp"

namespace mm {

/// What answer would mean what, as far as is sure: "41.2 mm or more fits, 40.8 mm or less does not"; "" where
/// nothing is. As finely as a value `width` wide needs, and exactly where seven digits do. `kind`: whole
/// numbers have a next one, and a day is told as a date.
std::string answers_text(const Blame& blame, const Unit& unit,
                         const std::optional<Rational>& width = std::nullopt,
                         TypeKind kind = TypeKind::quantity);

/// "26.5 mm to 28.5 mm", "more than 10 mm to 12 mm", "12 mm".
std::string window_text(const SettingWindow& window, const Unit& unit);

}  // namespace mm

// What a value is, found once when its cell is made.
#pragma once
#include "model/build.hpp"

namespace mm {

/// A value was given for it, not "?".
inline bool is_given(const Cell& cell) { return (cell.flags & cell_missing) == 0 && cell.given; }
/// Both ends are whole numbers, infinite, or nothing lies between them.
bool ends_are_whole(const ExactInterval& range);
/// What a number can be: the hull of what is given; else what its attribute declares, or else what the cell
/// says.
ExactInterval exact_range(const Build& build, const Cell& cell, const AttributeDef& attribute);
/// All but `fixed`, which hangs on the other versions.
CellNote note_of(const Model& model, const Build& build, const Cell& cell, const AttributeDef& attribute);

}  // namespace mm

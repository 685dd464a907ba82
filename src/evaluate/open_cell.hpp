// Cells of tables that leave a verdict open whatever is measured.
#pragma once
#include "evaluate/variables.hpp"

namespace mm {

/// Of a claim that no world decides: a cell of a table that holds a range or nothing, on which a comparison
/// turns even where each value is in its middle; none where there is no such cell.
std::optional<TableCell> open_cell(Bench& bench, const Claim& claim, const Variables& variables);

}  // namespace mm

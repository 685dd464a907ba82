// How precisely a verdict is known that was given up.
#pragma once
#include "evaluate/variables.hpp"

namespace mm {

/// Bounds of the margin of a claim over the present box, in a measure in which comparisons are open; none
/// where neither end is bounded or the claim may be undefined. The box is cut where the bounds are widest, up
/// to a fixed number of pieces and as long as steps are left.
std::optional<Precision> find_precision(Bench& bench, const Claim& claim, const Variables& variables);

}  // namespace mm

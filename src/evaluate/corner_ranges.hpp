// Ranges of numbers by the ends of the values along which they move one way: what plain arithmetic takes for
// two values where one occurs twice is one value there.
#pragma once
#include <utility>
#include <vector>

#include "evaluate/claim.hpp"

namespace mm {

/// The numbers of the part's block in which an open value occurs more than once, over the present box, which
/// is left as it was. The last few of them.
std::vector<std::pair<Reg, ExactInterval>> corner_ranges(Bench& bench, const Claim::Part& part,
                                                         const Binding& binding);

/// Behind "at least" only the upper end of a spread is safe to buy by, behind "at most" the lower one.
enum class SafeEnd : std::uint8_t { both, upper, lower };

/// What the block comes to, which must be a number; for its safe end, adjustable values are set as is best.
ExactInterval best_set_range(Bench& bench, const Claim::Part& part, const Binding& binding, SafeEnd safe);

}  // namespace mm

// What an open verdict hangs on.
#pragma once
#include "evaluate/search.hpp"

namespace mm {

/// Which open cells matter, most influential first, and with `with_limits` how well each would have to be
/// known.
void find_blames(Bench& bench, const Claim& claim, const Variables& variables, const Inspection& inspected,
                 Outcome& outcome, bool with_limits);

}  // namespace mm

// Which settings fit, once planned work is done.
#pragma once
#include "report/summary.hpp"

namespace mm {

/// What an option that depends on a setting comes to after all planned work that it reads, where other
/// settings fit then than as it is; null where the same do, or it is no matter of a setting then.
const Outcome* settings_after(const Finding& finding, const Option& option);

/// Some settings fit after this rework and not before, or the other way round.
bool sets_otherwise(const Finding& finding, const Summary& summary, std::uint32_t rework);

}  // namespace mm

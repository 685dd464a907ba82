// Which settings fit, once planned work is done.
#pragma once
#include "report/summary.hpp"

namespace mm {

/// Both are a matter of the setting, and not of the same ones.
bool differ_in_settings(const Scene& scene, const Outcome& a, const Outcome& b);

/// With some candidate it is a matter of the setting: after the planned work, or as it is where that work
/// does not make it fit.
bool is_set_somewhere(const Finding& finding, const Summary& summary);

/// Some settings fit after this rework and not before, or the other way round.
bool sets_otherwise(const Scene& scene, const Finding& finding, const Summary& summary, std::uint32_t rework);

}  // namespace mm

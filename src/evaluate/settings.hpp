// What the builder's own settings can do for a requirement that is open until something is set.
#pragma once
#include "evaluate/outcome.hpp"

namespace mm {

/// Tries the settings of every adjustable value that matters, the other values anywhere in their spread, as
/// long as there are no more than `most_settings` of them together. All settings fit, or all fail: that is
/// the verdict. Else the verdict stays `setting`, and where one value alone is set, outcome.settings tells
/// which of its settings surely fit. Expects an outcome that is `setting`; reads the present box, for which
/// `inspected` is, and leaves it so.
void try_settings(Bench& bench, const Claim& claim, const Variables& variables, Search& search,
                  const Inspection& inspected, Outcome& outcome);

/// The settings of a value that the builder sets, ascending; empty where it is not set by steps or from a
/// list, or there are more than `most_settings`.
std::vector<Rational> settings_of(const BuildIndex& index, CellId cell);

inline constexpr std::size_t most_settings = 512;

}  // namespace mm

// What the builder's own settings can do for a requirement that is open until something is set.
#pragma once
#include "evaluate/search.hpp"

namespace mm {

/// Tries the settings of every adjustable value that matters, the other values anywhere in their spread. All
/// settings fit, or all fail: that is the verdict; with each it fails or has no value: `unknown`. Else, and
/// where a thousand looks at stretches of settings do not tell, the verdict stays `setting`, and where one
/// value alone is set, outcome.settings tells which of its settings surely fit. Expects an outcome that is
/// `setting`; reads the present box, for which `inspected` is, and leaves it so.
void try_settings(Bench& bench, const Claim& claim, const Variables& variables, Search& search,
                  const Inspection& inspected, Outcome& outcome);

}  // namespace mm

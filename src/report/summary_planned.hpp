// What one combination of candidates comes to over the subsets of planned reworks, in a word and a text.
#pragma once
#include "report/summary.hpp"

namespace mm {

/// "fits, on a claim", "conflict (should)" of one case.
const char* plain_text(Word word, Weight weight, const Outcome& outcome);

/// Fills in all of the option but its choices and its cases, which are given.
void judge_reworks(const Scene& scene, const Finding& finding, Weight weight, Option& option);

}  // namespace mm

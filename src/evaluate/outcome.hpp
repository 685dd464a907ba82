// What a verdict carries beside itself: evidence, and in words why it is undefined or open.
#pragma once
#include "evaluate/claim.hpp"

namespace mm {

/// Weakest grade, default spreads and disputes of the cells in outcome.reads.
void note_evidence(const BuildIndex& index, Outcome& outcome);

/// In plain words, for a claim that is undefined somewhere in the box; "" when no cause is found. `code`: the
/// operation that is.
std::string undefined_reason(Bench& bench, const Names& names, const Claim& claim, OpCode& code);

/// In plain words, for a claim that hangs on which of several rows of a table is meant.
std::string disagreement(Bench& bench, const Names& names, const Claim& claim);

}  // namespace mm

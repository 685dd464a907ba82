// What a verdict carries beside itself: evidence, the reason for undefined, room to spare, and who is to
// blame.
#pragma once
#include "evaluate/search.hpp"

namespace mm {

/// Puts the build into a case's state.
void enter_case(const BuildIndex& index, World& world, const Case& state);

/// Weakest grade, default spreads and disputes of the cells in outcome.reads.
void note_evidence(const BuildIndex& index, Outcome& outcome);

/// In plain words, for a claim that is undefined somewhere in the box; "" when no cause is found. `code`: the
/// operation that is.
std::string undefined_reason(Bench& bench, const Names& names, const Claim& claim, OpCode& code);

/// For a claim that asks a size for a field which it does not give as it is written.
OpenReason field_reason(Bench& bench, const Names& names, const Claim& claim);

/// In plain words, for a claim that hangs on which of several rows of a table is meant.
std::string disagreement(Bench& bench, const Names& names, const Claim& claim);

/// Of a claim that no world decides: a cell of a table that holds a range or nothing, on which a comparison
/// turns even where each value is in its middle; none where there is no such cell.
std::optional<TableCell> open_cell(Bench& bench, const Claim& claim, const Variables& variables);

/// A verdict may be exact where bounds are rounded: a fit is never short, a conflict never to spare.
void clamp_margin(Verdict verdict, Interval& margin);

/// Room to spare of a test that is one comparison, or several joined by `and`.
void find_margin(Bench& bench, const Variables& variables, const Slacks& slacks, Outcome& outcome);

/// Which open cells matter, most influential first, and with `with_limits` how well each would have to be
/// known.
void find_blames(Bench& bench, const Claim& claim, const Variables& variables, const Inspection& inspected,
                 Outcome& outcome, bool with_limits);

}  // namespace mm

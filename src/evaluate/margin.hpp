// Room to spare.
#pragma once
#include "evaluate/slack.hpp"

namespace mm {

/// A verdict may be exact where bounds are rounded: a fit is never short, a conflict never to spare.
void clamp_margin(Verdict verdict, Interval& margin);

/// Room to spare of a test that is one comparison, or several joined by `and`.
void find_margin(Bench& bench, const Variables& variables, const Slacks& slacks, Outcome& outcome);

}  // namespace mm

// The sentences that a finding is told in: the requirement with numbers put in, by how much it misses, its
// values.
#pragma once
#include "evaluate/trace.hpp"
#include "report/summary.hpp"
#include "report/values.hpp"

namespace mm {

/// "need", "should", "caution" or "also".
std::string_view weight_word(Weight weight);
/// "order", "assemble" or "drive"; "" for none.
std::string gate_word(Gate gate);

/// The text of an expression as the rule file writes it, white space squeezed.
std::string expression_text(const Scene& scene, ExprId expr);

/// The same with each value put in for its name, spreads in brackets: "(41 mm +- 2 mm) - 38 mm >= 3 mm".
std::string expression_with_numbers(const Scene& scene, ExprId expr, const TraceNode& tree,
                                    const std::optional<Unit>& unit, int digits = usual_digits);

/// The digits at which both sides of a comparison that fails read differently; the usual ones where they do
/// already, and of anything else.
int digits_of_sides(const Scene& scene, const TraceNode& comparison, const std::optional<Unit>& unit);
/// The same of all comparisons that a test joins by `and`, `or` and `not`.
int digits_apart(const Scene& scene, const TraceNode& test, const std::optional<Unit>& unit);

/// The part of a test that decides it: the failing (else open) side of an `and`, the failing item of a
/// quantifier.
struct Focus {
  ExprId expr;                      // none: a quantifier with no such item
  const TraceNode* node = nullptr;  // in the tree given
  std::string item;                 // "for disc.front_left.hat: ", or ""
};
Focus focus_of(const Scene& scene, ExprId expr, const TraceNode& tree);

/// The reason tree of a case, in which a test that is decided is decided, also where it just touches its
/// limit.
TraceNode settled_trace(Tracer& tracer, const Finding& finding, std::size_t case_index);

/// The test of a reason tree, without the conditions of `when` and `where`.
const TraceNode& test_of(const TraceNode& tree);
/// The test is `every` or `some` and there was nothing to go over. Not asked of steps below, which may have
/// been cut short.
bool goes_over_none(const TraceNode& tree);

/// The first step that stands for the expression, or nullptr.
const TraceNode* find_node(const TraceNode& node, ExprId expr);

/// A traced number or set in plain words; in `unit` where its dimension allows.
std::string node_text(const Scene& scene, const TraceNode& node, const std::optional<Unit>& unit,
                      int digits = usual_digits, Rounding rounding = Rounding::nearest);

/// The unit that a difference is told in: the rule's own, else that of a value it read, else the usual one.
Unit measure_unit(const Scene& scene, const RequirementDef& requirement, const Outcome& outcome,
                  const Measure& measure);
/// That of a margin.
Unit margin_unit(const Scene& scene, const RequirementDef& requirement, const Outcome& outcome);

/// "misses by 6.2 mm", "3 mm to spare", "between 1.2 mm short and 3.2 mm to spare"; "" without a margin.
std::string margin_text(const Scene& scene, const RequirementDef& requirement, const Outcome& outcome);

/// "the row of pads at van.rules:7 says 4..6 mm for thickness", of a verdict that is open for that; "" else.
std::string open_cell_text(const Scene& scene, const Outcome& outcome);

/// ", on a claim" or ", on hearsay" where that is the weakest evidence read; "" else.
std::string evidence_tail(const Outcome& outcome);

/// How wide the value's spread is now; none where it is missing or has no end.
std::optional<Rational> known_width(const Scene& scene, const Blame& blame);

/// "26.5 mm to 28.5 mm surely fits", of a list "0.6 mm and 1.2 mm surely fit": settings of one adjustable
/// value that do, whatever the rest is; "" where none is known.
/// Where the outcome read several adjustable values the text begins with the name of this one.
std::string setting_text(const Scene& scene, const Outcome& outcome);
/// In its place: "no one range of settings is known to fit tight for sure"; `what` may be "".
std::string no_setting_text(const Scene& scene, const Outcome& outcome, const std::string& what = {});

/// "wheel.bore 63.4 mm (wheels.parts:12), hub.pilot 65 mm (hubs.parts:9)": what a case read, at most `limit`
/// values.
/// Several outcomes: the same values at several places, each place of a statement named once.
std::string reads_text(const Scene& scene, const std::vector<const Outcome*>& outcomes, std::size_t limit);

/// " at front_left and front_right", or " at all 4 places"; "" without places.
std::string places_text(const Scene& scene, const std::vector<Symbol>& places);

/// "O1 and O2"; "" without any.
std::string reworks_text(const Scene& scene, const std::vector<std::uint32_t>& reworks);

/// First letter in capitals, a full stop at the end.
std::string sentence(std::string text);

}  // namespace mm

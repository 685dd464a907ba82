// Where every choice of candidates and planned reworks meets some conflict, though each finding by itself has
// a way out: the findings that leave none between them.
#pragma once
#include "report/summary.hpp"

namespace mm {

struct NoChoice {
  std::vector<std::uint32_t> slots, reworks;  // indices into Build::fits and Build::reworks
  std::vector<std::size_t> findings;          // indices into Results::findings
  std::vector<const GraphFinding*> graph;     // too few of a candidate
  std::vector<SharedPart> shared;             // too few of a part for several slots
};

struct Conclusion {
  Summaries summaries;  // of all findings
  /// By word, those that are not waived, in order.
  std::array<std::vector<const Summary*>, word_count> with_word = {};
  /// Some choice of candidates and planned reworks leaves no conflict of need or should.
  bool avoidable = true;
  bool searched_all = true;  // false: the search met its limit first, and found none
  /// None of the sets can do without one of its members; a requirement that turns on the same choices at
  /// several places stands in one of them. Findings that are conflicts whatever is chosen stand in none of
  /// them. Empty where there is a way out, and where the search for one was cut off.
  std::vector<NoChoice> no_choices = {};
  std::vector<SharedPart> too_few = {};  // of which some choice takes more than there are
};

Conclusion conclude(const Scene& scene);
/// The summaries alone: whether there is a way out was not asked.
Conclusion not_searched(const Scene& scene);

/// 0 all fit, 1 conflict, 2 something open.
int exit_status(const Scene& scene, const Conclusion& conclusion);
/// The same of these findings alone: indices into Results::findings and Results::graph.
int exit_status(const Scene& scene, const std::vector<std::size_t>& findings,
                const std::vector<std::size_t>& graph);

/// "wheel and hub: whichever are chosen, one of fx and fy fails"
std::string no_choice_text(const Scene& scene, const NoChoice& set);

}  // namespace mm

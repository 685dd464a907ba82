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

/// None of the sets can do without one of its members; a requirement that turns on the same choices at
/// several places stands in one of them. Findings that are conflicts whatever is chosen stand in none of
/// them. Empty where there is a way out, and where the search for one was cut off.
std::vector<NoChoice> no_choices(const Scene& scene, const std::vector<Summary>& summaries);

/// "wheel and hub: whichever are chosen, one of fx and fy fails"
std::string no_choice_text(const Scene& scene, const NoChoice& set);

}  // namespace mm

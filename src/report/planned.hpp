// What each planned rework settles and what it spoils.
#pragma once
#include "report/fold.hpp"

namespace mm {

/// One requirement that turns on a rework, told once for all places.
struct PlannedEffect {
  Entry entry;
  std::vector<std::uint32_t> with;  // the other reworks that it takes
  PlannedTurn::Kind kind = PlannedTurn::Kind::settles;
  std::vector<std::string> candidates;  // "w1": only with these; empty: whatever is chosen
  std::string note;                     // "conflict after O1 alone", "unknown now"
};

struct PlannedWork {
  std::uint32_t rework = 0;  // index into Build::reworks
  std::vector<PlannedEffect> effects;
};

/// The planned reworks in order of the text, also those that change no verdict.
std::vector<PlannedWork> planned_work(const Scene& scene, const Summaries& summaries);

}  // namespace mm

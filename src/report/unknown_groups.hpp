// Unknowns gathered by the value that is missing or too coarse, not by rule.
#pragma once
#include "report/fold.hpp"

namespace mm {

struct Waiting {
  const Summary* summary = nullptr;
  std::size_t case_index = 0;
  const Blame* blame = nullptr;
  std::string candidate;  // "with alloy_15": only this choice waits
};

struct UnknownGroup {
  CellId cell;  // of the first that waits
  EntityId entity;
  std::uint32_t attribute = 0;
  bool missing = false;
  std::optional<Rational> needed_half_width;  // least over all that wait
  std::vector<Symbol> places;
  std::vector<Waiting> waiting;
};

struct Unknowns {
  std::vector<UnknownGroup> groups;  // most waiting first, then in order of first use
  std::vector<Waiting> unplaced;     // no single value would settle them
};

Unknowns group_unknowns(const Scene& scene, const std::vector<Summary>& summaries);

}  // namespace mm

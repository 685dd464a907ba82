// Holds the program's verdicts against sampled worlds, and its certificates against the judge.
#pragma once
#include "engine.hpp"

namespace mm_proof {

struct Counts {
  std::size_t scenes = 0, requirements = 0, worlds = 0;
  std::size_t undecided = 0;  // worlds that the judge could not decide (irrational limits, long ranges)
  std::map<std::string, std::size_t> verdicts;
  std::size_t certified = 0, undefined = 0, neither = 0;  // of the open verdicts
  std::size_t stated = 0, unstated = 0;                   // the same: given up, with a precision and without
  std::size_t rechecked = 0, not_rechecked = 0;           // certificate worlds
  std::size_t at_roots = 0;                               // tried, of those with a value between two
  std::size_t unmatched = 0;                              // bindings that the program left out
  std::size_t promises = 0;       // worlds in which a value lay where it surely fits, or surely fails
  std::size_t stated_worlds = 0;  // that were held against a stated precision
  std::vector<std::string> contradictions;
  std::vector<std::string> at_precision;  // the texts of those that are open at the precision

  void add(const Counts& other);
};

/// Judges one scene; `worlds` samples for each decided verdict.
Counts check(const Scene& scene, std::uint64_t seed, int worlds, std::size_t max_splits, bool details);

}  // namespace mm_proof

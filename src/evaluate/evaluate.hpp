// The checker: every requirement on every joint and match of one build gets its verdict.
#pragma once
#include "evaluate/results.hpp"

namespace mm {

class Helpers;

/// Limits that keep every check finite; each that is met is said in Results::notes or in the outcome.
struct EvaluateOptions {
  std::size_t max_matches = 1'000'000;  // of one rule
  /// Of candidates for one requirement; beyond, slots are varied one at a time, as far as there is room.
  std::size_t max_combinations = 256;
  std::size_t max_splits = 4'000;         // boxes looked at for one verdict
  std::size_t max_steps = 1'000'000'000;  // operations on doubles, for all that a build asks
  bool details = true;                    // margins and blames; off for a plain verdict
  bool setting_limits = true;             // how well each value must be known where a setting decides
  bool columns = true;                    // off: every joint by itself; says the same
  std::size_t threads = 0;                // 0: as many as the machine can run at once, up to four
  Helpers* helpers = nullptr;             // none: threads are started for it, where they are of use
  bool keep_worlds = false;               // the worlds that prove an open verdict, in Outcome::certificate
};

/// Judges one build (or trial) of a project without errors. Never throws for the text's content.
Results evaluate(const Project& project, const Build& build, const Names& names,
                 const EvaluateOptions& options = {});

}  // namespace mm

// Trials: what a rule file expects of its own examples against what was found.
#pragma once
#include <string>
#include <tuple>
#include <vector>

#include "report/scene.hpp"

namespace mm {

/// Where a trial stands, in words of its own: results of several projects stand side by side.
struct WrittenAt {
  std::string file;
  Place place;
  friend bool operator<(const WrittenAt& a, const WrittenAt& b) {
    return std::tie(a.file, a.place.line, a.place.column) < std::tie(b.file, b.place.line, b.place.column);
  }
};

struct ExpectationResult {
  WrittenAt place;
  std::string expected, got;  // plain words
  bool holds = false, is_that = false;
};

struct TrialResult {
  std::string title;
  WrittenAt place;
  std::vector<ExpectationResult> expectations;
  std::size_t failed() const;
};

/// An expectation holds when at least one finding is meant and every one that applies has the verdict; one
/// that means several with different verdicts fails and says so.
TrialResult judge_trial(const Scene& scene);

/// A line for each expectation that fails, then the totals, where `without` says how many files hold no
/// trial; as data for `--json`.
std::string trial_page(const std::vector<TrialResult>& results, std::size_t without, bool colour);
std::string trial_json(const std::vector<TrialResult>& results, int exit_status);

}  // namespace mm

// Judges one requirement on one joint or match in every state of the build that it can tell apart.
#pragma once
#include "evaluate/evaluate.hpp"
#include "evaluate/search.hpp"

namespace mm {

/// Steps (operations on doubles) for one claim in one state; beyond, the answer is unknown with
/// `precision_limit`. Once those of a build are used up, the claims that are left get few each.
inline constexpr std::int64_t steps_per_claim = 4'000'000, steps_per_build = 400'000'000, few_steps = 20'000;

/// Of candidates, of the slots that the finding reads; 2^32 stands for as many or more.
std::size_t combinations_of(const Build& build, const Finding& finding);

class CaseJudge {
 public:
  CaseJudge(Bench& bench, const Names& names, const EvaluateOptions& options);

  /// From here on so many steps may be used, in all.
  void start(std::int64_t steps) { steps_left_ = steps; }
  /// Fills slots, reworks and cases of a finding whose requirement and binding are set.
  void judge(Finding& finding, const Claim& claim);
  /// One state: the world as it stands.
  Outcome judge_state(const Claim& claim);
  bool limited() const { return limited_; }
  bool out_of_steps() const { return steps_left_ <= 0; }

 private:
  bool note_touched(Finding& finding);
  bool setting_matters(const Inspection& inspected) const;
  void grant_steps();
  void take_steps();
  void list_cases(Finding& finding) const;
  void enter(const Case& state);
  std::vector<std::vector<std::uint32_t>> rework_sets(const Finding& finding) const;

  Bench* bench_;
  const Names* names_;
  EvaluateOptions options_;
  Search search_;
  Variables variables_;
  mutable bool limited_ = false;
  std::int64_t steps_left_ = 0, granted_ = 0;
};

}  // namespace mm

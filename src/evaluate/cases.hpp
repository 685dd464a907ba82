// Judges one requirement on one joint or match in every state of the build that it can tell apart.
#pragma once
#include "evaluate/evaluate.hpp"
#include "evaluate/search.hpp"

namespace mm {

/// Steps for one claim in one state; beyond, the answer is unknown with `precision_limit`.
inline constexpr std::int64_t steps_per_claim = 4'000'000;

class CaseJudge {
 public:
  CaseJudge(Bench& bench, const Names& names, const EvaluateOptions& options);

  /// Fills slots, reworks and cases of a finding whose requirement and binding are set.
  void judge(Finding& finding, const Claim& claim);
  /// One state: the world as it stands.
  Outcome judge_state(const Claim& claim);
  bool limited() const { return limited_; }

 private:
  bool note_touched(Finding& finding);
  void list_cases(Finding& finding) const;
  void enter(const Case& state);
  std::vector<std::vector<std::uint32_t>> rework_sets(const Finding& finding) const;

  Bench* bench_;
  const Names* names_;
  EvaluateOptions options_;
  Search search_;
  Variables variables_;
  mutable bool limited_ = false;
};

}  // namespace mm

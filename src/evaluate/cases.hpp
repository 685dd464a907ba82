// Judges one requirement on one joint or match in every state of the build that it can tell apart.
#pragma once
#include "evaluate/evaluate.hpp"
#include "evaluate/search.hpp"

namespace mm {

/// Steps (operations on doubles) that every claim may do, whatever else there is to be done.
inline constexpr std::int64_t few_steps = 20'000;
/// Of the steps of a build one claim in one state gets at most one in so many.
inline constexpr std::int64_t least_claims = 250;

/// Of candidates, of the slots that the finding reads; 2^32 stands for as many or more.
std::size_t combinations_of(const Build& build, const Finding& finding);

/// Puts the build into a case's state.
void enter_case(const BuildIndex& index, World& world, const Case& state);

class CaseJudge {
 public:
  CaseJudge(Bench& bench, const Names& names, const EvaluateOptions& options);

  /// How many findings share what may be listed of slots that are varied one at a time.
  void share_with(std::size_t findings);
  /// From here on so many steps may be used, in all; beyond, what is open is so with `work_limit`.
  void start(std::int64_t steps) { steps_left_ = steps; }
  std::int64_t steps_left() const { return steps_left_; }
  /// Fills slots, reworks and cases of a finding whose requirement and binding are set.
  void judge(Finding& finding, const Claim& claim);
  /// One state: the world as it stands.
  Outcome judge_state(const Claim& claim);
  bool limited() const { return limited_; }

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
  std::size_t most_entries_ = 0;  // cases x slots, of one finding whose slots are varied one at a time
  std::int64_t steps_left_ = 0, granted_ = 0;
};

}  // namespace mm

// Judges many findings, side by side where the machine can.
#pragma once
#include <vector>

#include "evaluate/cases.hpp"

namespace mm {

/// A finding to judge, by its place in Results::findings; its requirement and binding are set.
struct Task {
  std::size_t finding = 0;
  const RuleDef* rule = nullptr;  // none for an interface's requirement
};

/// What one thread needs to judge.
struct Judge {
  Judge(const BuildIndex& index, const Names& names, const EvaluateOptions& options)
      : designations(index.model), bench(index, designations), cases(bench, names, options) {}
  Designations designations;
  Bench bench;
  CaseJudge cases;
};

struct LimitsMet {
  bool combinations = false;  // some finding read more candidates than are tried together
  bool steps = false;         // some finding is open for the steps that it takes
};

/// Each task has its own steps, so that what comes out hangs neither on the order of the tasks nor on the
/// number of threads or their pace. `first` is used by the calling thread.
LimitsMet judge_tasks(Judge& first, const Names& names, const EvaluateOptions& options,
                      std::deque<Finding>& findings, const std::vector<Task>& tasks);

}  // namespace mm

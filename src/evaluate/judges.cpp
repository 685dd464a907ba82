#include "evaluate/judges.hpp"

#include <algorithm>
#include <atomic>
#include <optional>

#include "base/helpers.hpp"
#include "interval/mpfr_number.hpp"

namespace mm {

namespace {

constexpr std::size_t shares = 16;
constexpr std::size_t most_rows = 1024;  // of tasks that follow each other, whose values lie close together
constexpr std::size_t tasks_a_thread = 32;  // fewer are done before another thread is awake

/// A helper's own, and its thread's constants.
struct HelpersJudge : ThreadsConstants, Judge {
  using Judge::Judge;
};

class Sharing {
 public:
  Sharing(const Names& names, const EvaluateOptions& options, std::deque<Finding>& findings,
          const std::vector<Task>& tasks)
      : names_(names), options_(options), findings_(findings), tasks_(tasks) {}

  LimitsMet run(Judge& first) {
    const std::size_t threads = std::min({options_.threads != 0 ? options_.threads : useful_threads(), shares,
                                          1 + tasks_.size() / tasks_a_thread});
    std::optional<Helpers> own;
    Helpers* helpers = options_.helpers;
    if (helpers == nullptr || helpers->size() + 1 < threads) helpers = &own.emplace(threads - 1);
    helpers->start(threads - 1, [this, &first]() -> Helpers::Remains {
      if (next_ >= shares) return nullptr;
      const RoundUp rounding;
      const auto mine = std::make_shared<HelpersJudge>(first.bench.index, names_, options_);
      judge_shares(*mine);
      return mine;
    });
    judge_shares(first);
    helpers->wait();
    return {combinations_, steps_};
  }

 private:
  void judge_one(Judge& judge, const Task& task) {
    Finding& finding = findings_[task.finding];
    judge.cases.judge(
        finding, {&judge.bench.index.model.requirements[finding.requirement], task.rule, finding.binding});
  }

  void judge_shares(Judge& judge) {
    const std::size_t row = 1 + tasks_.size() / most_rows;
    for (std::size_t share = next_++; share < shares; share = next_++) {
      judge.cases.start(steps_per_build / shares);
      for (std::size_t first = share * row; first < tasks_.size(); first += shares * row)
        for (std::size_t i = first; i < std::min(first + row, tasks_.size()); ++i)
          judge_one(judge, tasks_[i]);
      if (judge.cases.limited()) combinations_ = true;
      if (judge.cases.out_of_steps()) steps_ = true;
    }
  }

  const Names& names_;
  const EvaluateOptions& options_;
  std::deque<Finding>& findings_;
  const std::vector<Task>& tasks_;
  std::atomic<std::size_t> next_{0};
  std::atomic<bool> combinations_{false}, steps_{false};
};

}  // namespace

LimitsMet judge_tasks(Judge& first, const Names& names, const EvaluateOptions& options,
                      std::deque<Finding>& findings, const std::vector<Task>& tasks) {
  return Sharing(names, options, findings, tasks).run(first);
}

}  // namespace mm

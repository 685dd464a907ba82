#include "evaluate/judges.hpp"

#include <algorithm>
#include <atomic>
#include <numeric>
#include <optional>

#include "base/helpers.hpp"
#include "interval/mpfr_number.hpp"

namespace mm {

namespace {

constexpr std::size_t shares = 256;  // many: one that holds slow tasks is not to be the last
constexpr int most_rounds = 8;
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

  /// Every task gets as many steps as any other; what they leave is dealt out among those that had too few.
  LimitsMet run(Judge& first) {
    pending_.resize(tasks_.size());
    std::iota(pending_.begin(), pending_.end(), std::size_t{0});
    std::int64_t left = static_cast<std::int64_t>(options_.max_steps);
    for (int round = 0; round < most_rounds && !pending_.empty(); ++round) {
      const std::int64_t each = left / static_cast<std::int64_t>(pending_.size());
      if (round != 0 && each < budget_ + budget_ / 2) break;
      budget_ = each;
      used_ = 0;
      next_ = 0;
      judge_pending(first);
      left -= used_;
      std::erase_if(pending_, [&](std::size_t task) { return !had_too_few(task); });
    }
    return {combinations_, !pending_.empty()};
  }

 private:
  bool had_too_few(std::size_t task) const {
    const auto& cases = findings_[tasks_[task].finding].cases;
    return std::any_of(cases.begin(), cases.end(), [](const Case& c) { return c.outcome.work_limit; });
  }

  void judge_pending(Judge& first) {
    const std::size_t threads = std::min({options_.threads != 0 ? options_.threads : useful_threads(), shares,
                                          1 + pending_.size() / tasks_a_thread});
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
  }

  void judge_one(Judge& judge, const Task& task) {
    Finding& finding = findings_[task.finding];
    if (!finding.cases.empty()) {  // judged before, with fewer steps
      finding.slots.edit().clear();
      finding.reworks.edit().clear();
    }
    judge.cases.share_with(tasks_.size());
    judge.cases.start(budget_);
    judge.cases.judge(
        finding, {&judge.bench.index.model.requirements[finding.requirement], task.rule, finding.binding});
  }

  void judge_shares(Judge& judge) {
    const std::size_t row = 1 + pending_.size() / most_rows;
    for (std::size_t share = next_++; share < shares; share = next_++) {
      std::int64_t used = 0;
      for (std::size_t first = share * row; first < pending_.size(); first += shares * row)
        for (std::size_t i = first; i < std::min(first + row, pending_.size()); ++i) {
          judge_one(judge, tasks_[pending_[i]]);
          used += budget_ - judge.cases.steps_left();
        }
      used_ += used;
      if (judge.cases.limited()) combinations_ = true;
    }
  }

  const Names& names_;
  const EvaluateOptions& options_;
  std::deque<Finding>& findings_;
  const std::vector<Task>& tasks_;
  std::vector<std::size_t> pending_;  // of the tasks
  std::int64_t budget_ = 0;           // steps, of one task
  std::atomic<std::size_t> next_{0};
  std::atomic<std::int64_t> used_{0};
  std::atomic<bool> combinations_{false};
};

}  // namespace

LimitsMet judge_tasks(Judge& first, const Names& names, const EvaluateOptions& options,
                      std::deque<Finding>& findings, const std::vector<Task>& tasks) {
  return Sharing(names, options, findings, tasks).run(first);
}

}  // namespace mm

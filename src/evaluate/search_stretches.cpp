// Judging the stretches of one value after another, and of several together: where the answer turns over at
// the very end of one, no box without such an end would do.
#include <algorithm>

#include "evaluate/search.hpp"
#include "evaluate/stretches.hpp"

namespace mm {

namespace {

constexpr std::size_t most_values = 3;    // taken together
constexpr std::size_t most_judged = 400;  // boxes

}  // namespace

struct Search::StretchSearch {
  Worlds& worlds;
  std::vector<Stretches> values;
  Answers answers;
  std::size_t judged = 0;
  bool any_fits = false, any_conflict = false;
};

/// Every stretch of the value at `level`, and of those after it where that is not enough. False: some stay
/// open.
bool Search::judge_stretches(StretchSearch& search, std::size_t level) {
  const Stretches& value = search.values[level];
  const Variable& variable = (*variables_)[value.variable];
  const ExactInterval whole = bench_->box.exact(variable.cell);
  bool all = true;
  for (std::size_t stretch = 0; stretch < value.count() && all; ++stretch) {
    const ExactInterval range = value.range(stretch, whole, variable.integer);
    if (range.empty) continue;
    if (++search.judged > most_judged || bench_->spent()) return false;
    bench_->box.narrow_exact(variable.cell, range);
    const std::size_t before = search.answers.size();
    const Answers own = value.answers(stretch);
    search.answers.insert(search.answers.end(), own.begin(), own.end());
    bench_->suppose(&search.answers);
    tightener_.forget_arrangement();
    const Judged judged = judge_closely();
    bench_->suppose(nullptr);
    if (judged.holds == surely_yes || judged.holds == surely_no) {
      if (keep_worlds_) keep_world(judged);
      (judged.holds == surely_yes ? search.worlds.passes : search.worlds.fails) = true;
      search.any_conflict = search.any_conflict || judged.holds == surely_no;
      search.any_fits = search.any_fits || (judged.holds == surely_yes && !judged.not_applicable());
    } else if (level + 1 < search.values.size()) {
      all = judge_stretches(search, level + 1);
    } else {
      all = false;
    }
    search.answers.resize(before);
    if (search.worlds.mixed()) all = false;
  }
  bench_->box.narrow_exact(variable.cell, whole);
  return all;
}

void Search::try_stretches(const Claim& claim, Worlds& worlds, Decision& decision) {
  StretchSearch search{worlds, find_stretches(*bench_, claim, *variables_), {}};
  if (search.values.size() > most_values) search.values.resize(most_values);
  if (search.values.empty()) return;
  if (judge_stretches(search, 0) && !worlds.mixed()) {
    decision.split = true;
    decision.verdict = search.any_conflict ? Verdict::conflict
                       : search.any_fits   ? Verdict::fits
                                           : Verdict::not_applicable;
  }
  put_back();
  if (decision.verdict != Verdict::unknown || worlds.mixed()) return;
  take_again(claim);
}

}  // namespace mm

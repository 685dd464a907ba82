#include "evaluate/batch.hpp"

#include <algorithm>
#include <cmath>

#include "evaluate/margin.hpp"
#include "evaluate/outcome.hpp"

namespace mm {

namespace {
constexpr std::size_t fewest_rows = 16;  // below, setting up columns costs more than they save
}

Batch::Batch(Bench& bench, std::vector<const Binding*> rows, const RuleDef* rule,
             const std::vector<RequirementId>& requirements, const EvaluateOptions& options)
    : bench_(&bench), table_(bench, std::move(rows)), details_(options.details) {
  if (table_.size() < fewest_rows || options.keep_worlds || !options.columns) return;
  const auto of_use = [&](const ColumnJudge& judge) {
    return judge.any() && (!details_ || judge.tells_all());
  };
  std::vector<ColumnSource> read;
  for (const RequirementId id : requirements) {
    judges_.emplace_back(bench, bench.index.model.requirements[id], rule);
    if (of_use(judges_.back())) judges_.back().sources(read);
  }
  table_.gather(read);
  for (const ColumnJudge& judge : judges_)
    verdicts_.push_back(of_use(judge) ? judge.judge(table_, details_) : ColumnVerdicts{});
}

bool Batch::tells(std::size_t r, std::size_t row) const {
  if (r >= verdicts_.size() || !verdicts_[r].has(row)) return false;
  return !details_ || verdicts_[r].verdict(row) != Verdict::unknown;  // who is to blame is for the machine
}

void Batch::tell(std::size_t r, std::size_t row, Outcome& outcome) {
  outcome.verdict = verdicts_[r].verdict(row);
  outcome.certified = outcome.verdict == Verdict::unknown;
  judges_[r].reads(table_, row, reads_);
  outcome.reads = std::span<const CellId>(reads_);
  note_evidence(bench_->index, outcome);
  if (!details_) return;
  Interval margin = verdicts_[r].margins[row];
  if (margin.is_empty()) return;
  clamp_margin(outcome.verdict, margin);
  if (std::isfinite(margin.lo()) && std::isfinite(margin.hi)) outcome.margin = margin;
}

}  // namespace mm

// All requirements of one interface (or rule) on all its joints (or matches), judged by columns where there
// are enough of them and the requirement is of a plain shape.
#pragma once
#include "evaluate/column_judge.hpp"
#include "evaluate/evaluate.hpp"

namespace mm {

class Batch {
 public:
  /// `rows` must outlive it.
  Batch(Bench& bench, std::vector<const Binding*> rows, const RuleDef* rule,
        const std::vector<RequirementId>& requirements, const EvaluateOptions& options);

  /// Everything that the options want to know of requirement `r` (by its place in the list) on this row.
  bool tells(std::size_t r, std::size_t row) const;
  void tell(std::size_t r, std::size_t row, Outcome& outcome);

 private:
  const Bench* bench_;
  ColumnTable table_;
  std::vector<ColumnJudge> judges_;
  std::vector<ColumnVerdicts> verdicts_;
  bool details_;
  std::vector<CellId> reads_;  // of the row that was told last
};

}  // namespace mm

// Plain verdicts of a requirement on many joints (or matches) at once, by columns. Where columns cannot tell,
// there is none and the machine judges that row alone; it would say the same where they can.
#pragma once
#include "evaluate/column_run.hpp"
#include "evaluate/results.hpp"

namespace mm {

/// By row. `fits`, `conflict`, or `unknown` that is certified: a passing and a failing world exist.
struct ColumnVerdicts {
  static constexpr std::uint8_t none = 0xff;
  std::vector<std::uint8_t> verdicts;  // Verdict, or none
  std::vector<Interval> margins;       // of what fits or conflicts, if asked for; empty: it has none

  bool has(std::size_t row) const { return row < verdicts.size() && verdicts[row] != none; }
  Verdict verdict(std::size_t row) const { return static_cast<Verdict>(verdicts[row]); }
};

/// What one requirement reads, as columns: a rule's `where` and the test.
class ColumnJudge {
 public:
  /// Nothing of use (`any()` is false) where the requirement is not of a plain shape.
  ColumnJudge(Bench& bench, const RequirementDef& requirement, const RuleDef* rule);

  bool any() const { return test_.has_value(); }
  /// What it reads is added to a list: once that is gathered, `judge` only judges.
  void sources(std::vector<ColumnSource>& out) const;
  /// Rounding is upward when it is called and when it returns. `margins`: wanted.
  ColumnVerdicts judge(ColumnTable& table, bool margins) const;
  /// The cells that a verdict of `judge` other than unknown has read, in order of first use.
  void reads(const ColumnTable& table, std::size_t row, std::vector<CellId>& out) const;
  /// Margins and reads of single rows are known without the machine.
  bool tells_all() const { return any() && test_->single && test_->each_once && (!where_ || where_->single); }

 private:
  std::vector<std::uint32_t> rows_where(ColumnTable& table) const;
  static void settle_open(ColumnRun& inward, const std::vector<std::uint32_t>& rows, ColumnAnswers& answers,
                          std::vector<std::uint32_t>& touches, ColumnVerdicts& out);
  void settle_touches(ColumnTable& table, std::span<const std::uint32_t> rows, ColumnVerdicts& out) const;

  Bench* bench_;
  const RequirementDef* requirement_;
  const RuleDef* rule_;
  std::optional<ColumnPlan> where_, test_;
  bool has_where_ = false;
};

}  // namespace mm

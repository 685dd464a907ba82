#include "evaluate/column_judge.hpp"

#include <algorithm>
#include <cfenv>
#include <numeric>

namespace mm {

namespace {

/// As RoundUp, downward.
class RoundDown {
 public:
  RoundDown() : former_(std::fegetround()) { std::fesetround(FE_DOWNWARD); }
  ~RoundDown() { std::fesetround(former_); }
  RoundDown(const RoundDown&) = delete;
  RoundDown& operator=(const RoundDown&) = delete;

 private:
  int former_;
};

/// Calls `use(rows, answers)` for one block of rows after another.
template <class Use>
void each_block(const Model& model, const ColumnPlan& plan, ColumnTable& table,
                const std::vector<std::uint32_t>& rows, Rounded rounded, bool slack, Use use) {
  ColumnRun run(model, plan, table, slack);
  ColumnAnswers answers;
  const std::span<const std::uint32_t> all(rows);
  for (std::size_t at = 0; at < all.size(); at += ColumnRun::block) {
    const auto part = all.subspan(at, std::min(ColumnRun::block, all.size() - at));
    run.run(part, rounded, answers);
    use(part, answers);
  }
}

}  // namespace

ColumnJudge::ColumnJudge(const Model& model, const RequirementDef& requirement, const RuleDef* rule)
    : model_(&model) {
  if (requirement.when != no_block) return;
  if (rule != nullptr && rule->where != no_block) {
    has_where_ = true;
    where_ = ColumnPlan::of(model, rule->where_program, rule->where);
    if (!where_) return;
  }
  test_ = ColumnPlan::of(model, requirement.program, requirement.test);
}

void ColumnJudge::gather(ColumnTable& table) const {
  for (const auto* plan : {&where_, &test_}) {
    if (!*plan) continue;
    for (const ColumnSource& source : (*plan)->sources) table.column(source);
  }
}

/// Rows on which the rule surely applies.
void ColumnJudge::keep_where(ColumnTable& table, std::vector<std::uint32_t>& rows) const {
  std::vector<std::uint32_t> kept;
  each_block(*model_, *where_, table, rows, Rounded::outward, false,
             [&](auto part, const ColumnAnswers& answers) {
               for (std::size_t i = 0; i < part.size(); ++i) {
                 if (answers.hard[i] == 0 && answers.bits[i] == surely_yes) kept.push_back(part[i]);
               }
             });
  rows = std::move(kept);
}

/// Open by outward bounds: open in truth where inward ones say so too.
void ColumnJudge::settle_open(ColumnTable& table, const std::vector<std::uint32_t>& rows,
                              ColumnVerdicts& out) const {
  const RoundDown rounding;
  each_block(*model_, *test_, table, rows, Rounded::inward, false,
             [&](auto part, const ColumnAnswers& answers) {
               for (std::size_t i = 0; i < part.size(); ++i) {
                 if (answers.hard[i] == 0 && answers.bits[i] == undecided)
                   out.verdicts[part[i]] = static_cast<std::uint8_t>(Verdict::unknown);
               }
             });
}

ColumnVerdicts ColumnJudge::judge(ColumnTable& table, bool margins) const {
  ColumnVerdicts out;
  if (!any()) return out;
  out.verdicts.assign(table.size(), ColumnVerdicts::none);
  if (margins) out.margins.resize(table.size());
  std::vector<std::uint32_t> rows(table.size()), open;
  std::iota(rows.begin(), rows.end(), 0U);
  if (has_where_) keep_where(table, rows);
  each_block(*model_, *test_, table, rows, Rounded::outward, margins,
             [&](auto part, const ColumnAnswers& answers) {
               for (std::size_t i = 0; i < part.size(); ++i) {
                 if (answers.hard[i] != 0) continue;
                 const Bits bits = answers.bits[i];
                 if (!is_single(bits)) {
                   open.push_back(part[i]);
                   continue;
                 }
                 out.verdicts[part[i]] =
                     static_cast<std::uint8_t>(bits == surely_yes ? Verdict::fits : Verdict::conflict);
                 if (margins && !answers.most.empty())
                   out.margins[part[i]] = Interval{answers.neg_least[i], answers.most[i]};
               }
             });
  if (!open.empty() && test_->each_once) settle_open(table, open, out);
  return out;
}

void ColumnJudge::reads(const ColumnTable& table, std::size_t row, std::vector<CellId>& out) const {
  std::vector<CellId> all;
  for (const auto* plan : {&where_, &test_}) {
    if (!*plan) continue;
    for (const ColumnSource& source : (*plan)->sources) table.cells(source, row, all);
  }
  for (const CellId cell : all) {
    if (std::find(out.begin(), out.end(), cell) == out.end()) out.push_back(cell);
  }
}

}  // namespace mm

#include "evaluate/column_judge.hpp"

#include <algorithm>
#include <cfenv>

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

constexpr std::int64_t steps_per_touch = 20'000;

/// Decided, or left to others.
std::uint8_t verdict_of(Bits bits, char hard) {
  constexpr auto fits = static_cast<std::uint8_t>(Verdict::fits),
                 conflict = static_cast<std::uint8_t>(Verdict::conflict);
  const std::uint8_t told = bits == surely_yes ? fits : bits == surely_no ? conflict : ColumnVerdicts::none;
  return hard != 0 ? ColumnVerdicts::none : told;
}

/// Verdicts of what is decided; what is open goes on a list. No branches: which rows are open is not
/// foreseeable.
void sort_out(std::span<const std::uint32_t> rows, const ColumnAnswers& answers, std::uint8_t* verdicts,
              std::uint32_t* open, std::size_t& open_count) {
  const char* hard = answers.hard.data();
  const Bits* bits = answers.bits;
  const std::size_t first = rows.front(), size = rows.size();
  if (rows.back() - first + 1 == size) {
    for (std::size_t i = 0; i < size; ++i) verdicts[first + i] = verdict_of(bits[i], hard[i]);
  } else {
    for (std::size_t i = 0; i < size; ++i) verdicts[rows[i]] = verdict_of(bits[i], hard[i]);
  }
  std::size_t count = open_count;
  for (std::size_t i = 0; i < size; ++i) {
    open[count] = rows[i];
    count += hard[i] == 0 && bits[i] == undecided ? 1 : 0;
  }
  open_count = count;
}

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

ColumnJudge::ColumnJudge(Bench& bench, const RequirementDef& requirement, const RuleDef* rule)
    : bench_(&bench), requirement_(&requirement), rule_(rule) {
  const Model& model = bench.index.model;
  if (requirement.when != no_block) return;
  if (rule != nullptr && rule->where != no_block) {
    has_where_ = true;
    where_ = ColumnPlan::of(model, rule->where_program, rule->where);
    if (!where_) return;
  }
  test_ = ColumnPlan::of(model, requirement.program, requirement.test);
}

void ColumnJudge::sources(std::vector<ColumnSource>& out) const {
  for (const auto* plan : {&where_, &test_})
    if (*plan) out.insert(out.end(), (*plan)->sources.begin(), (*plan)->sources.end());
}

/// Rows on which the rule surely applies.
std::vector<std::uint32_t> ColumnJudge::rows_where(ColumnTable& table) const {
  std::vector<std::uint32_t> rows;
  each_block(bench_->index.model, *where_, table, table.every(), Rounded::outward, false,
             [&](auto part, const ColumnAnswers& answers) {
               for (std::size_t i = 0; i < part.size(); ++i) {
                 if (answers.hard[i] == 0 && answers.bits[i] == surely_yes) rows.push_back(part[i]);
               }
             });
  return rows;
}

/// Open by outward bounds: open in truth where inward ones say so too.
void ColumnJudge::settle_open(ColumnTable& table, const std::vector<std::uint32_t>& rows,
                              ColumnVerdicts& out) const {
  const RoundDown rounding;
  each_block(bench_->index.model, *test_, table, rows, Rounded::inward, false,
             [&](auto part, const ColumnAnswers& answers) {
               for (std::size_t i = 0; i < part.size(); ++i) {
                 if (answers.hard[i] == 0 && answers.bits[i] == undecided)
                   out.verdicts[part[i]] = static_cast<std::uint8_t>(Verdict::unknown);
               }
             });
}

/// Where values meet their limit exactly, no double can tell: exact arithmetic on that row can. With every
/// value read once and no rounding, what it leaves open is open.
void ColumnJudge::settle_touches(ColumnTable& table, const std::vector<std::uint32_t>& rows,
                                 ColumnVerdicts& out) const {
  for (const std::uint32_t row : rows) {
    if (out.verdicts[row] != ColumnVerdicts::none) continue;
    bench_->set_steps(steps_per_touch);
    const Judged judged = mm::judge(bench_->sharp, *bench_, {requirement_, rule_, &table.binding(row)});
    Verdict verdict = Verdict::unknown;
    if (judged.decided())
      verdict = judged.holds == surely_yes ? Verdict::fits : Verdict::conflict;
    else if (!test_->rational || judged.holds != undecided)
      continue;
    out.verdicts[row] = static_cast<std::uint8_t>(verdict);
  }
}

ColumnVerdicts ColumnJudge::judge(ColumnTable& table, bool margins) const {
  ColumnVerdicts out;
  if (!any()) return out;
  out.verdicts.assign(table.size(), ColumnVerdicts::none);
  if (margins) out.margins.resize(table.size());
  std::vector<std::uint32_t> applies, open;
  if (has_where_) applies = rows_where(table);
  const std::vector<std::uint32_t>& rows = has_where_ ? applies : table.every();
  std::size_t open_count = 0;
  each_block(bench_->index.model, *test_, table, rows, Rounded::outward, margins,
             [&](auto part, const ColumnAnswers& answers) {
               if (open.size() < open_count + part.size()) open.resize(2 * open_count + part.size());
               sort_out(part, answers, out.verdicts.data(), open.data(), open_count);
               for (std::size_t i = 0; i < answers.most.size(); ++i) {
                 if (out.has(part[i])) out.margins[part[i]] = Interval{answers.neg_least[i], answers.most[i]};
               }
             });
  open.resize(open_count);
  if (open.empty() || !test_->each_once) return out;
  settle_open(table, open, out);
  if (!margins) settle_touches(table, open, out);
  return out;
}

void ColumnJudge::reads(const ColumnTable& table, std::size_t row, std::vector<CellId>& out) const {
  out.clear();
  for (const auto* plan : {&where_, &test_}) {
    if (!*plan) continue;
    for (const ColumnSource& source : (*plan)->sources) table.cells(source, row, out);
  }
  auto end = out.begin();  // of those that are met for the first time
  for (const CellId cell : out) {
    if (std::find(out.begin(), end, cell) == end) *end++ = cell;
  }
  out.erase(end, out.end());
}

}  // namespace mm

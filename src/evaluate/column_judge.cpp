#include "evaluate/column_judge.hpp"

#include <algorithm>
#include <cfenv>
#include <cstring>

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
constexpr std::size_t touches_at_once = 32;  // whose values stay in the near cache until they are read

/// Decided, or left to others.
std::uint8_t verdict_of(Bits bits, char hard) {
  constexpr auto fits = static_cast<std::uint8_t>(Verdict::fits),
                 conflict = static_cast<std::uint8_t>(Verdict::conflict);
  const std::uint8_t told = bits == surely_yes ? fits : bits == surely_no ? conflict : ColumnVerdicts::none;
  return hard != 0 ? ColumnVerdicts::none : told;
}

/// Verdicts of what is decided, without branches: which rows are is not foreseeable.
void tell_decided(const RowSpan& rows, const ColumnAnswers& answers, std::uint8_t* verdicts) {
  const char* hard = answers.hard.data();
  const Bits* bits = answers.bits;
  const std::uint32_t* listed = rows.listed;
  const std::size_t first = rows.first, count = rows.count;
  if (listed == nullptr) {
    for (std::size_t i = 0; i < count; ++i) verdicts[first + i] = verdict_of(bits[i], hard[i]);
  } else {
    for (std::size_t i = 0; i < count; ++i) verdicts[listed[i]] = verdict_of(bits[i], hard[i]);
  }
}

/// Puts rows that are open at the end of a list. Eight are passed over at once where none is; else without
/// branches.
void list_open(const RowSpan& rows, const ColumnAnswers& answers, std::vector<std::uint32_t>& open) {
  static_assert((undecided & (undecided >> 1U)) == 1);
  const auto eight = [](const void* from) {
    std::uint64_t word = 0;
    std::memcpy(&word, from, sizeof word);
    return word;
  };
  const char* hard = answers.hard.data();
  const Bits* bits = answers.bits;
  std::size_t count = open.size();
  open.resize(count + rows.count);
  std::uint32_t* out = open.data();
  const auto take = [&](std::size_t i) {
    out[count] = static_cast<std::uint32_t>(rows[i]);
    count += hard[i] == 0 && bits[i] == undecided ? 1 : 0;
  };
  std::size_t i = 0;
  for (; i + 8 <= rows.count; i += 8) {
    const std::uint64_t word = eight(bits + i);
    if ((word & word >> 1U & 0x0101'0101'0101'0101) == 0) continue;  // no byte says both yes and no
    for (std::size_t k = i; k < i + 8; ++k) take(k);
  }
  for (; i < rows.count; ++i) take(i);
  open.resize(count);
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
  ColumnRun run(bench_->index.model, *where_, table, Rounded::outward, false);
  ColumnAnswers answers;
  for (std::size_t at = 0; at < table.size(); at += ColumnRun::block) {
    const RowSpan part = table.every().part(at, ColumnRun::block);
    run.run(part, answers);
    for (std::size_t i = 0; i < part.count; ++i) {
      if (answers.hard[i] == 0 && answers.bits[i] == surely_yes)
        rows.push_back(static_cast<std::uint32_t>(part[i]));
    }
  }
  return rows;
}

/// Open by outward bounds: open in truth where inward ones say so too. The rest meet their limit.
void ColumnJudge::settle_open(ColumnRun& inward, const std::vector<std::uint32_t>& rows,
                              ColumnAnswers& answers, std::vector<std::uint32_t>& touches,
                              ColumnVerdicts& out) {
  {
    const RoundDown rounding;
    inward.run(RowSpan::of(rows), answers);
  }
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (answers.hard[i] == 0 && answers.bits[i] == undecided)
      out.verdicts[rows[i]] = static_cast<std::uint8_t>(Verdict::unknown);
    else
      touches.push_back(rows[i]);
  }
}

/// Where values meet their limit exactly, no double can tell: exact arithmetic on that row can. With every
/// value read once and no rounding, what it leaves open is open.
void ColumnJudge::settle_touches(ColumnTable& table, std::span<const std::uint32_t> rows,
                                 ColumnVerdicts& out) const {
  for (std::size_t at = 0; at < rows.size(); at += touches_at_once) {
    const auto some = rows.subspan(at, std::min(touches_at_once, rows.size() - at));
    table.fetch(test_->sources, some);
    for (const std::uint32_t row : some) {
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
}

ColumnVerdicts ColumnJudge::judge(ColumnTable& table, bool margins) const {
  ColumnVerdicts out;
  if (!any()) return out;
  out.verdicts.assign(table.size(), ColumnVerdicts::none);
  if (margins) out.margins.resize(table.size());
  std::vector<std::uint32_t> applies, open, touches;
  if (has_where_) applies = rows_where(table);
  const RowSpan rows = has_where_ ? RowSpan::of(applies) : table.every();
  ColumnRun outward(bench_->index.model, *test_, table, Rounded::outward, margins);
  std::optional<ColumnRun> inward;
  ColumnAnswers answers;
  for (std::size_t at = 0; at < rows.count; at += ColumnRun::block) {
    const RowSpan part = rows.part(at, ColumnRun::block);
    outward.run(part, answers);
    tell_decided(part, answers, out.verdicts.data());
    for (std::size_t i = 0; i < answers.most.size(); ++i) {
      const std::size_t row = part[i];
      if (out.has(row)) out.margins[row] = Interval{answers.neg_least[i], answers.most[i]};
    }
    if (!test_->each_once) continue;
    open.clear();
    list_open(part, answers, open);
    if (open.empty()) continue;
    if (!inward) inward.emplace(bench_->index.model, *test_, table, Rounded::inward, false);
    settle_open(*inward, open, answers, touches, out);
  }
  if (!margins) settle_touches(table, touches, out);
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

// The rows of a table that a look-up may mean: in one world, where one value meets several that say different
// things; and one after another, in place of the look-up, of which arithmetic knows only the least and the
// greatest.
#include <algorithm>

#include "evaluate/search.hpp"

namespace mm {

namespace {

constexpr std::size_t most_rows = 24;   // tried in one world
constexpr std::size_t most_cases = 24;  // one row for each look-up

/// A look-up, and the rows that it may mean.
struct Choice {
  std::size_t part = 0, op = 0;
  std::vector<const ConstValue*> rows;
};

std::vector<Choice> choices_of(Bench& bench, const Claim& claim) {
  std::vector<Choice> out;
  std::size_t cases = 1;
  each_step(bench.fast, bench, claim, [&](const Claim::Part& part, std::size_t p, const Op& op) {
    if (op.code != OpCode::lookup || bench.fast.at(op.target).state != defined) return;
    const std::vector<std::uint32_t> rows = bench.fast.rows_met(op, false, most_cases + 1);
    if (rows.size() < 2 || rows.size() * cases > most_cases) return;
    cases *= rows.size();
    const Lookup& lookup = part.program->lookups[op.payload];
    Choice choice{p, static_cast<std::size_t>(&op - part.program->blocks[part.block].ops.data()), {}};
    for (const std::uint32_t row : rows)
      choice.rows.push_back(&bench.index.model.tables[lookup.table].rows[row][lookup.column]);
    out.push_back(std::move(choice));
  });
  return out;
}

}  // namespace

/// One value may meet several rows of a table, and it hangs on which of them is meant.
void Search::try_rows(const Claim& claim, Worlds& worlds) {
  std::vector<RowChoice> rows;
  each_step(bench_->sharp, *bench_, claim, [&](const Claim::Part&, std::size_t, const Op& op) {
    if (op.code != OpCode::lookup) return;
    const std::vector<std::uint32_t> met = bench_->sharp.rows_met(op, true, most_rows);
    if (met.size() > 1) rows.insert(rows.end(), met.begin(), met.end());
  });
  std::sort(rows.begin(), rows.end());
  rows.erase(std::unique(rows.begin(), rows.end()), rows.end());
  if (rows.size() > most_rows) rows.resize(most_rows);
  Worlds here;
  for (const RowChoice row : rows) {
    bench_->sharp.choose_rows(row);
    const Judged judged = judge(bench_->sharp, *bench_, claim);
    here.add(judged);
    if (keep_worlds_) keep_world(judged, row);
  }
  bench_->sharp.choose_rows(any_row);
  worlds.passes = worlds.passes || here.passes;
  worlds.fails = worlds.fails || here.fails;
  worlds.rows_disagree = worlds.rows_disagree || here.mixed();
}

/// With what each row says in place of the look-up: decided where all cases say the same.
void Search::judge_rows(const Claim& claim, Decision& decision) {
  const std::vector<Choice> choices = choices_of(*bench_, claim);
  if (choices.empty()) return;
  Claim::Part parts[3];
  const std::size_t count = claim.parts(parts);
  std::vector<Program> programs;
  std::vector<Claim::Part> written;
  for (std::size_t p = 0; p < count; ++p) programs.push_back(*parts[p].program);
  for (std::size_t p = 0; p < count; ++p) written.push_back({&programs[p], parts[p].block});
  Claim with_rows = claim;
  with_rows.written = &written;
  std::vector<std::size_t> turn(choices.size(), 0);
  std::size_t cases = 1;
  for (const Choice& choice : choices) cases *= choice.rows.size();
  Judged all{0, 0};
  for (std::size_t i = 0; i < cases; ++i) {
    for (std::size_t c = 0; c < choices.size(); ++c) {
      const ConstValue& row = *choices[c].rows[turn[c]];
      Op& op = programs[choices[c].part].blocks[parts[choices[c].part].block].ops[choices[c].op];
      op.code = row.number ? OpCode::number : OpCode::symbolic;
      op.payload = row.number ? row.number.index : row.symbols.index;
    }
    bench_->forget_programs();
    tightener_.take(with_rows, *variables_);
    const Judged judged = judge_closely();
    all.applies |= judged.applies;
    all.holds |= judged.holds;
    if (!is_single(all.holds) || bench_->spent()) break;
    for (std::size_t c = 0; c < choices.size() && ++turn[c] == choices[c].rows.size(); ++c) turn[c] = 0;
  }
  bench_->forget_programs();
  take_again(claim);
  if (bench_->spent() || !is_single(all.holds)) return;
  decision.verdict = verdict_of(all);
  decision.split = decision.verdict != Verdict::unknown;
}

}  // namespace mm

#include "evaluate/column_run.hpp"

#include <algorithm>
#include <bit>
#include <cstring>

#include "base/twice.hpp"
#include "interval/interval_pack.hpp"

namespace mm {

ColumnRun::ColumnRun(const Model& model, const ColumnPlan& plan, ColumnTable& table, bool slack)
    : model_(model),
      plan_(plan),
      table_(table),
      room_(new Room[plan.columns]),  // not cleared: each column is written before it is read
      values_(plan.columns),
      most_(std::min(block, table.size())),
      slack_(slack) {
  for (std::size_t c = 0; c < plan.columns; ++c)
    values_[c] = {nullptr, nullptr, nullptr, room_[c].neg_lo, room_[c].hi, room_[c].symbols, room_[c].bits};
  for (const ColumnSource& source : plan.sources) columns_.push_back(table.column(source));
}

/// The column that an operation makes, in its own room.
ColumnRun::Values& ColumnRun::fill(const ColumnOp& op) {
  Values& values = values_[op.target];
  values.neg_lo = values.own_neg_lo;
  values.hi = values.own_hi;
  values.plain = false;
  return values;
}

void ColumnRun::load(const ColumnOp& op, std::span<const std::uint32_t> rows) {
  const ColumnSource& source = plan_.sources[op.payload];
  const Column& column = table_[columns_[op.payload]];
  Values& out = values_[op.target];
  const std::size_t first = rows.front(), count = rows.size();
  const bool run_on = rows.back() - first + 1 == count;
  if (column.any_hard) {
    for (std::size_t i = 0; i < count; ++i)
      if (column.hard[rows[i]] != 0) hard_[i] = 1;
  }
  if (source.way == ColumnSource::Way::items) return;  // its aggregate reads the column
  if (!source.is_number()) {
    out.symbols = run_on ? column.symbols.data() + first : out.own_symbols;
    for (std::size_t i = 0; i < count && !run_on; ++i) out.own_symbols[i] = column.symbols[rows[i]];
    return;
  }
  if (run_on && rounded_ == Rounded::outward) {
    out.hi = column.hi.data() + first;
    out.neg_lo = column.points ? out.own_neg_lo : column.neg_lo.data() + first;
    for (std::size_t i = 0; i < count && column.points; ++i) out.own_neg_lo[i] = -out.hi[i];
    out.plain = column.plain;
    return;
  }
  fill(op);
  const double inward = rounded_ == Rounded::inward ? least_step : 0;
  for (std::size_t i = 0; i < count; ++i) {
    const double hi = column.hi[rows[i]];
    out.own_neg_lo[i] = (column.points ? -hi : column.neg_lo[rows[i]]) - inward;
    out.own_hi[i] = hi - inward;
  }
}

/// Sums of the rows of a many side; two rows side by side where they have as many items.
void ColumnRun::sums(const Column& column, std::span<const std::uint32_t> rows, double inward, Values& out) {
  using Two = double __attribute__((vector_size(2 * sizeof(double))));
  const auto size = [&](std::size_t i) { return column.first[rows[i] + 1] - column.first[rows[i]]; };
  const double *low = column.neg_lo.data(), *high = column.hi.data();
  for (std::size_t i = 0; i < rows.size();) {
    const std::size_t items = size(i), at = column.first[rows[i]];
    const bool two = i + 1 < rows.size() && size(i + 1) == items;
    const std::size_t other = two ? column.first[rows[i + 1]] : at;
    Two lows{}, highs{};
    for (std::size_t k = 0; k < items; ++k) {
      lows += Two{low[at + k], low[other + k]} - inward;
      highs += Two{high[at + k], high[other + k]} - inward;
    }
    out.own_neg_lo[i] = lows[0];
    out.own_hi[i] = highs[0];
    if (two) {
      out.own_neg_lo[i + 1] = lows[1];
      out.own_hi[i + 1] = highs[1];
    }
    i += two ? 2 : 1;
  }
}

/// Sum, least or greatest of a many side, row by row.
void ColumnRun::items(const ColumnOp& op, std::span<const std::uint32_t> rows) {
  const Column& column = table_[columns_[plan_.ops[op.a].payload]];
  Values& out = fill(op);
  const double inward = rounded_ == Rounded::inward ? least_step : 0;
  if (op.code == OpCode::sum_entities) return sums(column, rows, inward, out);
  const bool least = op.code == OpCode::min_entities;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const std::size_t from = column.first[rows[i]], to = column.first[rows[i] + 1];
    double low = 0, high = 0;
    for (std::size_t at = from; at < to; ++at) {
      const double x = column.neg_lo[at] - inward, y = column.hi[at] - inward;
      low = at == from ? x : least ? std::max(low, x) : std::min(low, x);
      high = at == from ? y : least ? std::min(high, y) : std::max(high, y);
    }
    out.own_neg_lo[i] = low;
    out.own_hi[i] = high;
  }
}

void ColumnRun::constant(const ColumnOp& op) {
  Values& out = fill(op);
  if (op.code == OpCode::symbolic) {
    std::fill_n(out.own_symbols, most_, op.payload);
    out.symbols = out.own_symbols;
    return;
  }
  const Interval number = model_.numbers[NumberId{op.payload}].bounds;
  const double inward = rounded_ == Rounded::inward ? least_step : 0;
  std::fill_n(out.own_neg_lo, most_, number.neg_lo - inward);
  std::fill_n(out.own_hi, most_, number.hi - inward);
}

namespace {

using Pack = IntervalPack;
using Signs = Pack::Signs;

[[gnu::always_inline]] inline Signs answer(Signs no, Signs yes) { return (no & may_no) | (yes & may_yes); }

struct AtMost {
  [[gnu::always_inline]] Signs operator()(const Pack& x, const Pack& y) const {
    return answer(x.hi > -y.neg_lo, -x.neg_lo <= y.hi);
  }
};
struct Below {
  [[gnu::always_inline]] Signs operator()(const Pack& x, const Pack& y) const {
    return answer(x.hi >= -y.neg_lo, -x.neg_lo < y.hi);
  }
};
struct Equal {
  [[gnu::always_inline]] Signs operator()(const Pack& x, const Pack& y) const {
    return answer((-x.neg_lo != x.hi) | (-y.neg_lo != y.hi) | (x.hi != y.hi),
                  (-x.neg_lo <= y.hi) & (-y.neg_lo <= x.hi));
  }
};

/// Answers of a comparison, eight rows in a word.
template <class Comparison>
void answers_of(std::size_t count, const double* al, const double* ah, const double* bl, const double* bh,
                Bits* bits) {
  static_assert(Pack::rows == 4 && std::endian::native == std::endian::little);
  constexpr Comparison of;
  std::size_t i = 0;
  for (; i + 8 <= count; i += 8) {
    const std::size_t j = i + Pack::rows;
    const Signs eight = of(Pack::plain(al + i, ah + i), Pack::plain(bl + i, bh + i)) |
                        of(Pack::plain(al + j, ah + j), Pack::plain(bl + j, bh + j)) << 32;
    const std::int64_t word = eight[0] | eight[1] << 8 | eight[2] << 16 | eight[3] << 24;
    std::memcpy(bits + i, &word, sizeof word);
  }
  for (; i < count; ++i)
    bits[i] = static_cast<Bits>(of(Pack::all({al[i], ah[i]}), Pack::all({bl[i], bh[i]}))[0]);
}

}  // namespace

MATCHMARK_COMPILED_TWICE void ColumnRun::compare(const ColumnOp& op, std::size_t count) {
  const Values &a = values_[op.a], &b = values_[op.b];
  Bits* bits = values_[op.target].bits;
  if (op.code == OpCode::le) return answers_of<AtMost>(count, a.neg_lo, a.hi, b.neg_lo, b.hi, bits);
  if (op.code == OpCode::lt) return answers_of<Below>(count, a.neg_lo, a.hi, b.neg_lo, b.hi, bits);
  answers_of<Equal>(count, a.neg_lo, a.hi, b.neg_lo, b.hi, bits);
  // which whole or nominal values two ranges share is for the machine
  if (rounded_ == Rounded::inward) std::fill_n(hard_, count, char{1});
}

void ColumnRun::same(const ColumnOp& op, std::size_t count) {
  const std::uint32_t *a = values_[op.a].symbols, *b = values_[op.b].symbols;
  Bits* bits = values_[op.target].bits;
  for (std::size_t i = 0; i < count; ++i)
    bits[i] = a[i] == any_symbol || b[i] == any_symbol ? undecided : truth_bits(a[i] == b[i]);
}

void ColumnRun::run(std::span<const std::uint32_t> rows, Rounded rounded, ColumnAnswers& answers) {
  const std::size_t count = rows.size();
  if (rounded != rounded_) constants_stand_ = false;
  rounded_ = rounded;
  answers.hard.assign(count, 0);
  hard_ = answers.hard.data();
  for (const ColumnOp& op : plan_.ops) {
    switch (op.code) {
      case OpCode::attribute:
        load(op, rows);
        break;
      case OpCode::number:
      case OpCode::symbolic:
        if (!constants_stand_) constant(op);
        break;
      case OpCode::sum_entities:
      case OpCode::min_entities:
      case OpCode::max_entities:
        items(op, rows);
        break;
      case OpCode::mul:
        product(op, count);
        break;
      case OpCode::div:
        quotient(op, count);
        break;
      case OpCode::lt:
      case OpCode::le:
      case OpCode::eq:
        compare(op, count);
        break;
      case OpCode::same:
        same(op, count);
        break;
      case OpCode::logical_and:
      case OpCode::logical_or:
      case OpCode::logical_not: {
        Bits* bits = values_[op.target].bits;
        for (std::size_t i = 0; i < count; ++i) {
          const Bits a = values_[op.a].bits[i], b = op.b == no_reg ? surely_yes : values_[op.b].bits[i];
          bits[i] = op.code == OpCode::logical_not   ? not_bits(a)
                    : op.code == OpCode::logical_and ? and_bits(a, b)
                                                     : or_bits(a, b);
        }
        break;
      }
      default:
        arithmetic(op, count);
    }
  }
  constants_stand_ = true;
  const ColumnOp& last = plan_.ops.back();
  answers.bits = values_[last.target].bits;
  answers.neg_least.clear();
  answers.most.clear();
  if (!slack_ || !plan_.single || (last.code != OpCode::le && last.code != OpCode::lt)) return;
  const Values &lower = values_[last.a], &upper = values_[last.b];
  for (std::size_t i = 0; i < count; ++i) {
    answers.neg_least.push_back(upper.neg_lo[i] + lower.hi[i]);
    answers.most.push_back(upper.hi[i] + lower.neg_lo[i]);
  }
}

}  // namespace mm

#include "evaluate/column_run.hpp"

#include <algorithm>
#include <bit>
#include <cstring>

#include "base/twice.hpp"
#include "interval/interval_pack.hpp"

namespace mm {

namespace {

using Bounds = double __attribute__((vector_size(2 * sizeof(double))));  // -lo and hi

Bounds bounds_of(const Interval& number) {
  Bounds bounds;
  static_assert(sizeof bounds == sizeof number);
  std::memcpy(&bounds, &number, sizeof bounds);
  return bounds;
}

}  // namespace

ColumnRun::ColumnRun(const Model& model, const ColumnPlan& plan, ColumnTable& table, Rounded rounded,
                     bool slack)
    : model_(model),
      plan_(plan),
      table_(table),
      room_(new Room[plan.columns]),  // not cleared: each column is written before it is read
      values_(plan.columns),
      most_(std::min(block, table.size())),
      rounded_(rounded),
      slack_(slack),
      inward_(rounded == Rounded::inward ? least_step : 0) {
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

void ColumnRun::load(const ColumnOp& op, const RowSpan& rows) {
  const ColumnSource& source = plan_.sources[op.payload];
  const Column& column = table_[columns_[op.payload]];
  Values& out = values_[op.target];
  if (column.any_hard) {
    for (std::size_t i = 0; i < rows.count; ++i)
      if (column.hard[rows[i]] != 0) hard_[i] = 1;
  }
  if (source.way == ColumnSource::Way::items) return;  // its aggregate reads the column
  if (source.is_number()) return load_numbers(column.numbers, rows, fill(op));
  out.symbols = rows.listed == nullptr ? column.symbols.data() + rows.first : out.own_symbols;
  for (std::size_t i = 0; i < rows.count && rows.listed != nullptr; ++i)
    out.own_symbols[i] = column.symbols[rows[i]];
}

void ColumnRun::load_numbers(const ColumnNumbers& numbers, const RowSpan& rows, Values& out) {
  using Form = ColumnNumbers::Form;
  out.plain = numbers.plain() && rounded_ == Rounded::outward;
  double *neg_lo = out.own_neg_lo, *hi = out.own_hi;
  if (rows.listed != nullptr || rounded_ == Rounded::inward) {
    const double inward = inward_;
    for (std::size_t i = 0; i < rows.count; ++i) {
      const Interval number = numbers[rows[i]];
      neg_lo[i] = number.neg_lo - inward;
      hi[i] = number.hi - inward;
    }
  } else if (numbers.form() == Form::coded) {
    const std::uint8_t* codes = numbers.codes() + rows.first;
    const Interval* distinct = numbers.distinct();
    std::size_t i = 0;
    for (; i + 2 <= rows.count; i += 2) {
      const Bounds one = bounds_of(distinct[codes[i]]), next = bounds_of(distinct[codes[i + 1]]);
      const Bounds low = __builtin_shufflevector(one, next, 0, 2),
                   high = __builtin_shufflevector(one, next, 1, 3);
      std::memcpy(neg_lo + i, &low, sizeof low);
      std::memcpy(hi + i, &high, sizeof high);
    }
    for (; i < rows.count; ++i) {
      neg_lo[i] = distinct[codes[i]].neg_lo;
      hi[i] = distinct[codes[i]].hi;
    }
  } else {
    out.hi = numbers.hi() + rows.first;
    if (numbers.form() == Form::bounds) {
      out.neg_lo = numbers.neg_lo() + rows.first;
    } else {
      for (std::size_t i = 0; i < rows.count; ++i) neg_lo[i] = -out.hi[i];
    }
  }
}

/// Sum, least or greatest of a many side, row by row.
void ColumnRun::items(const ColumnOp& op, const RowSpan& rows) {
  const Column& column = table_[columns_[plan_.ops[op.a].payload]];
  const ColumnNumbers& numbers = column.numbers;
  Values& out = fill(op);
  const auto fold = [&](auto at) {
    for (std::size_t i = 0; i < rows.count; ++i) {
      const std::size_t row = rows[i], from = column.first[row], to = column.first[row + 1];
      Bounds all{};
      if (op.code == OpCode::sum_entities) {
        for (std::size_t k = from; k < to; ++k) all += at(k);
      } else if (from < to) {
        all = at(from);
        const bool least = op.code == OpCode::min_entities;
        for (std::size_t k = from + 1; k < to; ++k) {
          const Bounds next = at(k), low = all < next ? all : next, high = all < next ? next : all;
          all = least ? Bounds{high[0], low[1]} : Bounds{low[0], high[1]};
        }
      }
      out.own_neg_lo[i] = all[0];
      out.own_hi[i] = all[1];
    }
  };
  const auto narrowed = [&](auto at) {
    const double inward = inward_;
    if (inward == 0) return fold(at);
    fold([=](std::size_t k) { return at(k) - inward; });
  };
  if (numbers.form() != ColumnNumbers::Form::coded)
    return narrowed([&numbers](std::size_t k) { return bounds_of(numbers[k]); });
  narrowed([codes = numbers.codes(), distinct = numbers.distinct()](std::size_t k) {
    return bounds_of(distinct[codes[k]]);
  });
}

void ColumnRun::constant(const ColumnOp& op) {
  Values& out = fill(op);
  if (op.code == OpCode::symbolic) {
    std::fill_n(out.own_symbols, most_, op.payload);
    out.symbols = out.own_symbols;
    return;
  }
  const Interval number = model_.numbers[NumberId{op.payload}].bounds;
  std::fill_n(out.own_neg_lo, most_, number.neg_lo - inward_);
  std::fill_n(out.own_hi, most_, number.hi - inward_);
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

/// Without branches: which values are missing is not foreseeable.
MATCHMARK_COMPILED_TWICE void ColumnRun::same(const ColumnOp& op, std::size_t count) {
  const std::uint32_t *a = values_[op.a].symbols, *b = values_[op.b].symbols;
  Bits* bits = values_[op.target].bits;
  for (std::size_t i = 0; i < count; ++i) {
    const unsigned open = unsigned{a[i] == any_symbol} | unsigned{b[i] == any_symbol},
                   equal = a[i] == b[i] ? 1 : 0;
    bits[i] = static_cast<Bits>((open | (equal ^ 1U)) * may_no + (open | equal) * may_yes);
  }
}

void ColumnRun::run(const RowSpan& rows, ColumnAnswers& answers) {
  const std::size_t count = rows.count;
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

#include "evaluate/column_run.hpp"

#include <algorithm>

namespace mm {

ColumnRun::ColumnRun(const Model& model, const ColumnPlan& plan, ColumnTable& table, bool slack)
    : model_(model),
      plan_(plan),
      table_(table),
      room_(new Room[plan.columns]),  // not cleared: each column is written before it is read
      values_(plan.columns),
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
    out.neg_lo = column.neg_lo.data() + first;
    out.hi = column.hi.data() + first;
    out.plain = column.plain;
    return;
  }
  fill(op);
  const double inward = rounded_ == Rounded::inward ? least_step : 0;
  for (std::size_t i = 0; i < count; ++i) {
    out.own_neg_lo[i] = column.neg_lo[rows[i]] - inward;
    out.own_hi[i] = column.hi[rows[i]] - inward;
  }
}

/// Sum, least or greatest of a many side, row by row.
void ColumnRun::items(const ColumnOp& op, std::span<const std::uint32_t> rows) {
  const Column& column = table_[columns_[plan_.ops[op.a].payload]];
  Values& out = fill(op);
  const double inward = rounded_ == Rounded::inward ? least_step : 0;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const std::size_t from = column.first[rows[i]], to = column.first[rows[i] + 1];
    double low = 0, high = 0;
    if (op.code == OpCode::sum_entities) {
      for (std::size_t at = from; at < to; ++at) {
        low += column.neg_lo[at] - inward;
        high += column.hi[at] - inward;
      }
    } else {
      const bool least = op.code == OpCode::min_entities;
      for (std::size_t at = from; at < to; ++at) {
        const double x = column.neg_lo[at] - inward, y = column.hi[at] - inward;
        low = at == from ? x : least ? std::max(low, x) : std::min(low, x);
        high = at == from ? y : least ? std::min(high, y) : std::max(high, y);
      }
    }
    out.own_neg_lo[i] = low;
    out.own_hi[i] = high;
  }
}

void ColumnRun::constant(const ColumnOp& op) {
  Values& out = fill(op);
  if (op.code == OpCode::symbolic) {
    std::fill_n(out.own_symbols, block, op.payload);
    out.symbols = out.own_symbols;
    return;
  }
  const Interval number = model_.numbers[NumberId{op.payload}].bounds;
  const double inward = rounded_ == Rounded::inward ? least_step : 0;
  std::fill_n(out.own_neg_lo, block, number.neg_lo - inward);
  std::fill_n(out.own_hi, block, number.hi - inward);
}

void ColumnRun::compare(const ColumnOp& op, std::size_t count) {
  const double *al = values_[op.a].neg_lo, *ah = values_[op.a].hi;
  const double *bl = values_[op.b].neg_lo, *bh = values_[op.b].hi;
  Bits* bits = values_[op.target].bits;
  const auto each = [&](auto no, auto yes) {
    for (std::size_t i = 0; i < count; ++i)
      bits[i] = static_cast<Bits>((no(i) ? may_no : 0) | (yes(i) ? may_yes : 0));
  };
  if (op.code == OpCode::le) {
    each([=](std::size_t i) { return ah[i] > -bl[i]; }, [=](std::size_t i) { return -al[i] <= bh[i]; });
  } else if (op.code == OpCode::lt) {
    each([=](std::size_t i) { return ah[i] >= -bl[i]; }, [=](std::size_t i) { return -al[i] < bh[i]; });
  } else {
    each([=](std::size_t i) { return -al[i] != ah[i] || -bl[i] != bh[i] || ah[i] != bh[i]; },
         [=](std::size_t i) { return -al[i] <= bh[i] && -bl[i] <= ah[i]; });
    // which whole or nominal values two ranges share is for the machine
    if (rounded_ == Rounded::inward) std::fill_n(hard_, count, char{1});
  }
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
  answers.hard.assign(block, 0);
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

#include "evaluate/column_run.hpp"

#include <algorithm>
#include <bit>
#include <cmath>

namespace mm {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

/// The double next to x > 0 on the side of zero.
double next_below(double x) { return std::bit_cast<double>(std::bit_cast<std::int64_t>(x) - 1); }

bool none_negative(const double* neg_lo, const double* hi, std::size_t count) {
  double lowest = -infinity, highest = -infinity;
  for (std::size_t i = 0; i < count; ++i) {
    lowest = std::max(lowest, neg_lo[i]);
    highest = std::max(highest, hi[i]);
  }
  return lowest <= 0 && highest < infinity;
}

}  // namespace

ColumnRun::ColumnRun(const Model& model, const ColumnPlan& plan, ColumnTable& table, bool slack)
    : model_(model), plan_(plan), table_(table), values_(plan.columns), slack_(slack) {
  for (const ColumnSource& source : plan.sources) columns_.push_back(table.column(source));
}

double* ColumnRun::own_neg_lo(Values& values) {
  values.neg_lo_kept.resize(block);
  values.neg_lo = values.neg_lo_kept.data();
  return values.neg_lo_kept.data();
}

double* ColumnRun::own_hi(Values& values) {
  values.hi_kept.resize(block);
  values.hi = values.hi_kept.data();
  return values.hi_kept.data();
}

void ColumnRun::load(const ColumnOp& op, std::span<const std::uint32_t> rows) {
  const ColumnSource& source = plan_.sources[op.payload];
  const Column& column = table_[columns_[op.payload]];
  Values& out = values_[op.target];
  const bool run_on = rows.back() - rows.front() + 1 == rows.size();
  char* hard = hard_->data();
  if (run_on) {
    for (std::size_t i = 0; i < rows.size(); ++i) hard[i] |= column.hard[rows.front() + i];
  } else {
    for (std::size_t i = 0; i < rows.size(); ++i) hard[i] |= column.hard[rows[i]];
  }
  if (source.way == ColumnSource::Way::items) return;  // its aggregate reads the column
  if (!source.is_number()) {
    if (run_on) {
      out.symbols = column.symbols.data() + rows.front();
      return;
    }
    out.symbols_kept.resize(block);
    for (std::size_t i = 0; i < rows.size(); ++i) out.symbols_kept[i] = column.symbols[rows[i]];
    out.symbols = out.symbols_kept.data();
    return;
  }
  if (run_on && rounded_ == Rounded::outward) {
    out.neg_lo = column.neg_lo.data() + rows.front();
    out.hi = column.hi.data() + rows.front();
    return;
  }
  double *neg_lo = own_neg_lo(out), *hi = own_hi(out);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    neg_lo[i] = column.neg_lo[rows[i]];
    hi[i] = column.hi[rows[i]];
    if (rounded_ == Rounded::outward) continue;
    if (std::isfinite(neg_lo[i])) neg_lo[i] = std::nextafter(neg_lo[i], -infinity);
    if (std::isfinite(hi[i])) hi[i] = std::nextafter(hi[i], -infinity);
  }
}

/// Sum, least or greatest of a many side, row by row.
void ColumnRun::items(const ColumnOp& op, std::span<const std::uint32_t> rows) {
  const Column& column = table_[columns_[plan_.ops[op.a].payload]];
  double *neg_lo = own_neg_lo(values_[op.target]), *hi = own_hi(values_[op.target]);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const std::size_t from = column.first[rows[i]], to = column.first[rows[i] + 1];
    double low = 0, high = 0;
    for (std::size_t at = from; at < to; ++at) {
      double x = column.neg_lo[at], y = column.hi[at];
      if (rounded_ == Rounded::inward) {
        if (std::isfinite(x)) x = std::nextafter(x, -infinity);
        if (std::isfinite(y)) y = std::nextafter(y, -infinity);
      }
      if (op.code == OpCode::sum_entities) {
        low += x;
        high += y;
      } else {
        const bool least = op.code == OpCode::min_entities;
        low = at == from ? x : least ? std::max(low, x) : std::min(low, x);
        high = at == from ? y : least ? std::min(high, y) : std::max(high, y);
      }
    }
    neg_lo[i] = low;
    hi[i] = high;
  }
}

void ColumnRun::constant(const ColumnOp& op) {
  Values& out = values_[op.target];
  if (op.code == OpCode::symbolic) {
    out.symbols_kept.assign(block, op.payload);
    out.symbols = out.symbols_kept.data();
    return;
  }
  Interval number = model_.numbers[NumberId{op.payload}].bounds;
  if (rounded_ == Rounded::inward) {
    if (std::isfinite(number.neg_lo)) number.neg_lo = std::nextafter(number.neg_lo, -infinity);
    if (std::isfinite(number.hi)) number.hi = std::nextafter(number.hi, -infinity);
  }
  std::fill_n(own_neg_lo(out), block, number.neg_lo);
  std::fill_n(own_hi(out), block, number.hi);
}

void ColumnRun::product(const ColumnOp& op, std::size_t count) {
  const Values &a = values_[op.a], &b = values_[op.b];
  double *neg_lo = own_neg_lo(values_[op.target]), *hi = own_hi(values_[op.target]);
  if (none_negative(a.neg_lo, a.hi, count) && none_negative(b.neg_lo, b.hi, count)) {
    for (std::size_t i = 0; i < count; ++i) {
      neg_lo[i] = a.neg_lo[i] * -b.neg_lo[i];
      hi[i] = a.hi[i] * b.hi[i];
    }
    return;
  }
  for (std::size_t i = 0; i < count; ++i) {
    const Interval value = mul(Interval{a.neg_lo[i], a.hi[i]}, Interval{b.neg_lo[i], b.hi[i]});
    neg_lo[i] = value.neg_lo;
    hi[i] = value.hi;
    // which ends make the product's ends is not known of bounds that may have passed each other
    if (rounded_ == Rounded::inward) (*hard_)[i] = 1;
  }
}

void ColumnRun::quotient(const ColumnOp& op, std::size_t count) {
  const Values &a = values_[op.a], &b = values_[op.b];
  double *neg_lo = own_neg_lo(values_[op.target]), *hi = own_hi(values_[op.target]);
  for (std::size_t i = 0; i < count; ++i) {
    if (a.neg_lo[i] <= 0 && a.hi[i] >= 0 && b.neg_lo[i] < 0 && b.hi[i] > 0) {
      neg_lo[i] = a.neg_lo[i] / b.hi[i];
      hi[i] = a.hi[i] / -b.neg_lo[i];
      if (hi[i] < infinity) continue;
    }
    Domain domain = Domain::whole;
    const Interval value = div(Interval{a.neg_lo[i], a.hi[i]}, Interval{b.neg_lo[i], b.hi[i]}, &domain);
    neg_lo[i] = value.neg_lo;
    hi[i] = value.hi;
    if (domain != Domain::whole || value.is_empty() || rounded_ == Rounded::inward) (*hard_)[i] = 1;
  }
}

void ColumnRun::arithmetic(const ColumnOp& op, std::size_t count) {
  const double *al = values_[op.a].neg_lo, *ah = values_[op.a].hi;
  const double *bl = op.b == no_reg ? nullptr : values_[op.b].neg_lo,
               *bh = op.b == no_reg ? nullptr : values_[op.b].hi;
  double *neg_lo = own_neg_lo(values_[op.target]), *hi = own_hi(values_[op.target]);
  const auto each = [&](auto low, auto high) {
    for (std::size_t i = 0; i < count; ++i) {
      neg_lo[i] = low(i);
      hi[i] = high(i);
    }
  };
  switch (op.code) {
    case OpCode::add:
      return each([=](std::size_t i) { return al[i] + bl[i]; }, [=](std::size_t i) { return ah[i] + bh[i]; });
    case OpCode::sub:
      return each([=](std::size_t i) { return al[i] + bh[i]; }, [=](std::size_t i) { return ah[i] + bl[i]; });
    case OpCode::neg:
      return each([=](std::size_t i) { return ah[i]; }, [=](std::size_t i) { return al[i]; });
    case OpCode::min:
      return each([=](std::size_t i) { return std::max(al[i], bl[i]); },
                  [=](std::size_t i) { return std::min(ah[i], bh[i]); });
    case OpCode::max:
      return each([=](std::size_t i) { return std::min(al[i], bl[i]); },
                  [=](std::size_t i) { return std::max(ah[i], bh[i]); });
    case OpCode::abs:  // |x| >= max(lo, -hi, 0)
      return each([=](std::size_t i) { return std::min(std::min(al[i], ah[i]), 0.0); },
                  [=](std::size_t i) { return std::max(al[i], ah[i]); });
    default:
      break;
  }
  const bool outward =
      rounded_ == Rounded::outward;  // the root; rounding gives one end, the next double the other
  for (std::size_t i = 0; i < count; ++i) {
    if (al[i] > 0 || ah[i] < 0) (*hard_)[i] = 1;
    const double least = std::sqrt(std::max(-al[i], 0.0));
    neg_lo[i] = outward ? (least > 0 && least < infinity ? -next_below(least) : -least)
                        : -std::nextafter(least, infinity);
    hi[i] = std::sqrt(std::max(ah[i], 0.0));
  }
}

void ColumnRun::compare(const ColumnOp& op, std::size_t count) {
  const double *al = values_[op.a].neg_lo, *ah = values_[op.a].hi;
  const double *bl = values_[op.b].neg_lo, *bh = values_[op.b].hi;
  std::vector<Bits>& bits = values_[op.target].bits;
  bits.resize(block);
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
    if (rounded_ == Rounded::inward) std::fill_n(hard_->begin(), count, char{1});
  }
}

void ColumnRun::same(const ColumnOp& op, std::size_t count) {
  const std::uint32_t *a = values_[op.a].symbols, *b = values_[op.b].symbols;
  std::vector<Bits>& bits = values_[op.target].bits;
  bits.resize(block);
  for (std::size_t i = 0; i < count; ++i)
    bits[i] = a[i] == any_symbol || b[i] == any_symbol ? undecided : truth_bits(a[i] == b[i]);
}

void ColumnRun::run(std::span<const std::uint32_t> rows, Rounded rounded, ColumnAnswers& answers) {
  const std::size_t count = rows.size();
  if (rounded != rounded_) constants_stand_ = false;
  rounded_ = rounded;
  answers.hard.assign(block, 0);
  hard_ = &answers.hard;
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
        std::vector<Bits>& bits = values_[op.target].bits;
        bits.resize(block);
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

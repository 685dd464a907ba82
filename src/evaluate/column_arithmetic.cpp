// Arithmetic of a column run: loops over a block of rows without branches, so that the processor works on
// several rows at once.
#include <algorithm>
#include <cmath>

#include "base/twice.hpp"
#include "evaluate/column_run.hpp"
#include "interval/interval_pack.hpp"

namespace mm {

/// Some rows at a time; `single(i)` works out a row that a pack leaves in doubt.
template <class Packed, class Single>
void ColumnRun::by_packs(const ColumnOp& op, std::size_t count, Packed packed, Single single) {
  constexpr std::size_t rows = IntervalPack::rows;
  const Values &a = values_[op.a], &b = values_[op.b];
  double *neg_lo = fill(op).own_neg_lo, *hi = values_[op.target].own_hi;
  const auto all = [&](std::size_t i) {
    return packed(IntervalPack::all({a.neg_lo[i], a.hi[i]}), IntervalPack::all({b.neg_lo[i], b.hi[i]}));
  };
  IntervalPack::Signs doubt{};
  const std::size_t whole = count - count % rows;
  const auto run = [&](auto load) {
    for (std::size_t i = 0; i < whole; i += rows)
      doubt |= packed(load(a.neg_lo + i, a.hi + i), load(b.neg_lo + i, b.hi + i)).store(neg_lo + i, hi + i);
  };
  if (a.plain && b.plain)
    run([](const double* low, const double* high) { return IntervalPack::plain(low, high); });
  else
    run([](const double* low, const double* high) { return IntervalPack::load(low, high); });
  for (std::size_t i = whole; i < count; ++i) {
    const IntervalPack last = all(i);
    neg_lo[i] = last.neg_lo[0];
    hi[i] = last.hi[0];
    doubt |= last.doubts();
  }
  values_[op.target].plain = !any_doubt(doubt);
  for (std::size_t i = 0; i < count && !values_[op.target].plain; ++i) {
    if (any_doubt(all(i).doubts())) single(i);
  }
}

MATCHMARK_COMPILED_TWICE void ColumnRun::product(const ColumnOp& op, std::size_t count) {
  const Values &a = values_[op.a], &b = values_[op.b], &out = values_[op.target];
  by_packs(
      op, count, [](const IntervalPack& x, const IntervalPack& y) { return mul(x, y); },
      [&](std::size_t i) {
        const Interval value = mul(Interval{a.neg_lo[i], a.hi[i]}, Interval{b.neg_lo[i], b.hi[i]});
        out.own_neg_lo[i] = value.neg_lo;
        out.own_hi[i] = value.hi;
        // which ends make the product's ends is not known of bounds that may have passed each other
        if (rounded_ == Rounded::inward) hard_[i] = 1;
      });
}

MATCHMARK_COMPILED_TWICE void ColumnRun::quotient(const ColumnOp& op, std::size_t count) {
  const Values &a = values_[op.a], &b = values_[op.b], &out = values_[op.target];
  by_packs(
      op, count, [](const IntervalPack& x, const IntervalPack& y) { return div(x, y); },
      [&](std::size_t i) {
        Domain domain = Domain::whole;
        const Interval value = div(Interval{a.neg_lo[i], a.hi[i]}, Interval{b.neg_lo[i], b.hi[i]}, &domain);
        out.own_neg_lo[i] = value.neg_lo;
        out.own_hi[i] = value.hi;
        if (domain != Domain::whole || value.is_empty() || rounded_ == Rounded::inward) hard_[i] = 1;
      });
}

/// Rounding gives one end of a root, the double next to it the other.
MATCHMARK_COMPILED_TWICE void ColumnRun::root(const ColumnOp& op, std::size_t count) {
  const double *al = values_[op.a].neg_lo, *ah = values_[op.a].hi;
  double *neg_lo = fill(op).own_neg_lo, *hi = values_[op.target].own_hi;
  const double step = rounded_ == Rounded::outward ? least_step : -least_step;
  constexpr std::size_t rows = IntervalPack::rows;
  std::size_t i = 0;
  for (; i + rows <= count; i += rows) {
    const IntervalPack x = IntervalPack::plain(al + i, ah + i);
    const IntervalPack::Numbers zero{}, lo = -x.neg_lo;
    const IntervalPack::Numbers low = step - square_root(lo > zero ? lo : zero);
    const IntervalPack y{low < -zero ? low : -zero, square_root(x.hi > zero ? x.hi : zero), {}};
    static_cast<void>(y.store(neg_lo + i, hi + i));
  }
  for (; i < count; ++i) {
    neg_lo[i] = std::min(step - std::sqrt(std::max(-al[i], 0.0)), -0.0);
    hi[i] = std::sqrt(std::max(ah[i], 0.0));
  }
  if (values_[op.a].plain) return;
  for (i = 0; i < count; ++i) {
    if (al[i] > 0 || ah[i] < 0) hard_[i] = 1;
  }
}

MATCHMARK_COMPILED_TWICE void ColumnRun::arithmetic(const ColumnOp& op, std::size_t count) {
  const double *al = values_[op.a].neg_lo, *ah = values_[op.a].hi;
  const double *bl = op.b == no_reg ? nullptr : values_[op.b].neg_lo,
               *bh = op.b == no_reg ? nullptr : values_[op.b].hi;
  double *neg_lo = fill(op).own_neg_lo, *hi = values_[op.target].own_hi;
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
      return root(op, count);
  }
}

}  // namespace mm

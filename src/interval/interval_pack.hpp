// Several intervals side by side, one a row: both bounds of all rows go through the same instructions, and no
// row branches. That is right only for plain rows: finite, and without negative numbers. A row is in doubt
// where it cannot be told that it is one; such rows are worked out anew by interval.hpp. Same rounding mode,
// same bounds.
#pragma once
#include <bit>
#include <cmath>
#include <cstdint>
#include <cstring>
#ifdef __SSE2__
#include <emmintrin.h>
#endif

#include "interval/interval.hpp"

namespace mm {

struct IntervalPack {
  static constexpr std::size_t rows = 4;
  using Numbers = double __attribute__((vector_size(rows * sizeof(double))));
  using Signs = std::int64_t __attribute__((vector_size(rows * sizeof(double))));

  Numbers neg_lo, hi;
  /// Below zero: the row is in doubt. The others were plain at first; what overflowed since shows in
  /// doubts().
  Signs doubt;

  /// Of rows that are known to be plain.
  static IntervalPack plain(const double* neg_lo, const double* hi) {
    IntervalPack out;
    std::memcpy(&out.neg_lo, neg_lo, sizeof out.neg_lo);
    std::memcpy(&out.hi, hi, sizeof out.hi);
    out.doubt = Signs{};
    return out;
  }
  static IntervalPack load(const double* neg_lo, const double* hi) {
    IntervalPack out = plain(neg_lo, hi);
    out.doubt = out.doubts();
    return out;
  }
  static IntervalPack all(const Interval& number) {
    IntervalPack out{Numbers{} + number.neg_lo, Numbers{} + number.hi, Signs{}};
    out.doubt = out.doubts();
    return out;
  }
  /// Below zero: in doubt, as every row that is not plain.
  [[gnu::always_inline]] Signs doubts() const {
    return doubt | ~signs(neg_lo) | signs(hi) | (largest_bits - signs(hi));
  }
  /// Its doubts.
  [[gnu::always_inline]] Signs store(double* to_neg_lo, double* to_hi) const {
    std::memcpy(to_neg_lo, &neg_lo, sizeof neg_lo);
    std::memcpy(to_hi, &hi, sizeof hi);
    return doubts();
  }
  static constexpr std::int64_t largest_bits = 0x7fef'ffff'ffff'ffff;  // of a finite number
  /// The bits of each number: below zero where its sign is set.
  [[gnu::always_inline]] static Signs signs(Numbers numbers) { return reinterpret_cast<Signs>(numbers); }
};

[[gnu::always_inline]] inline bool any_doubt(IntervalPack::Signs doubt) {
  std::int64_t any = 0;
  for (std::size_t row = 0; row < IntervalPack::rows; ++row) any |= doubt[row];
  return any < 0;
}

inline bool all_plain(const double* neg_lo, const double* hi, std::size_t count) {
  IntervalPack::Signs doubt{};
  for (std::size_t i = 0; i < count; ++i) doubt |= IntervalPack::all({neg_lo[i], hi[i]}).doubt;
  return !any_doubt(doubt);
}

inline IntervalPack add(const IntervalPack& a, const IntervalPack& b) {
  return {a.neg_lo + b.neg_lo, a.hi + b.hi, a.doubt | b.doubt};
}

inline IntervalPack mul(const IntervalPack& a, const IntervalPack& b) {
  return {a.neg_lo * -b.neg_lo, a.hi * b.hi, a.doubt | b.doubt};
}

/// Rows whose divisor holds zero are in doubt too.
inline IntervalPack div(const IntervalPack& a, const IntervalPack& b) {
  const IntervalPack::Numbers lo = -b.neg_lo;
  return {a.neg_lo / b.hi, a.hi / lo, a.doubt | b.doubt | (IntervalPack::signs(lo) - 1)};
}

/// Of numbers not below zero. Compilers that heed the rounding mode take roots one by one unless told.
[[gnu::always_inline]] inline IntervalPack::Numbers square_root(IntervalPack::Numbers numbers) {
#ifdef __SSE2__
  __m128d halves[2];
  std::memcpy(halves, &numbers, sizeof halves);
  for (__m128d& half : halves) half = _mm_sqrt_pd(half);
  std::memcpy(&numbers, halves, sizeof halves);
#else
  for (std::size_t row = 0; row < IntervalPack::rows; ++row) numbers[row] = std::sqrt(numbers[row]);
#endif
  return numbers;
}

/// By an exact number above zero, such as a rule writes.
inline IntervalPack mul(const IntervalPack& a, double number) {
  return {a.neg_lo * number, a.hi * number, a.doubt};
}
inline IntervalPack div(const IntervalPack& a, double number) {
  constexpr std::uint64_t fraction = (std::uint64_t{1} << 52U) - 1;
  const bool power_of_two =
      (std::bit_cast<std::uint64_t>(number) & fraction) == 0 && number >= 0x1p-1022 && number <= 0x1p1022;
  if (power_of_two) return mul(a, 1 / number);  // exact, and ready sooner
  return {a.neg_lo / number, a.hi / number, a.doubt};
}

}  // namespace mm

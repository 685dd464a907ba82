// Bodies of add, sub, mul and div, inline because formulas spend their time here. Included by interval.hpp
// only.
//
// With SSE2 both bounds go through one packed instruction. Operands come by reference so that a pair of
// bounds stays one load; passed by value they are split and put together again, at twice the time. What is
// left to a call takes packed registers, so that the common way need not keep its operands in memory.
#pragma once
#include "interval/interval.hpp"
#if defined(__SSE2__) && !defined(MATCHMARK_SCALAR_INTERVALS)
#include <emmintrin.h>
#define MM_PACKED_INTERVALS 1
#endif

namespace mm {

/// Any signs, infinite or empty operands.
Interval mul_general(const Interval& a, const Interval& b);
Interval div_general(Interval a, Interval b, Domain* domain);

#ifdef MM_PACKED_INTERVALS

static_assert(sizeof(Interval) == 2 * sizeof(double));

namespace packed {
inline __m128d load(const Interval& a) { return _mm_loadu_pd(reinterpret_cast<const double*>(&a)); }
inline Interval store(__m128d bounds) {
  Interval result;
  _mm_storeu_pd(reinterpret_cast<double*>(&result), bounds);
  return result;
}
/// As mul_general and div_general.
[[gnu::cold, gnu::noinline]] __m128d mul_rest(__m128d a, __m128d b);
[[gnu::cold, gnu::noinline]] __m128d div_rest(__m128d a, __m128d b, Domain* domain);
}  // namespace packed

inline Interval add(const Interval& a, const Interval& b) {
  return packed::store(_mm_add_pd(packed::load(a), packed::load(b)));
}

inline Interval sub(const Interval& a, const Interval& b) {
  const __m128d y = packed::load(b);
  return packed::store(_mm_add_pd(packed::load(a), _mm_shuffle_pd(y, y, 1)));
}

// The fast way is for operands without negative numbers, told by signs alone: of b as (lo, hi), of -lo of a,
// and of the upper product, which has that of hi of a, or is a NaN (0 times infinity, or an empty operand),
// which this hardware gives a sign. -0 only costs the detour.
inline Interval mul(const Interval& a, const Interval& b) {
  const __m128d flip = _mm_set_pd(0.0, -0.0);
  const __m128d x = packed::load(a), y = _mm_xor_pd(packed::load(b), flip);
  __m128d product = _mm_mul_pd(x, y);
  const __m128d signs = _mm_or_pd(_mm_xor_pd(_mm_move_sd(product, x), flip), y);
  if (_mm_movemask_pd(signs) != 0) [[unlikely]]
    return packed::store(packed::mul_rest(packed::load(a), packed::load(b)));
  return packed::store(product);
}

// The fast way is for a without negative numbers over positive b: (-lo / b.hi, hi / b.lo). A NaN fails each
// test.
inline Interval div(const Interval& a, const Interval& b, Domain* domain) {
  const __m128d flip = _mm_set_pd(0.0, -0.0), zero = _mm_setzero_pd();
  const __m128d x = packed::load(a), y = _mm_xor_pd(packed::load(b), flip);
  const __m128d plain = _mm_and_pd(_mm_cmpge_pd(_mm_xor_pd(x, flip), zero), _mm_cmpgt_pd(y, zero));
  if (_mm_movemask_pd(plain) != 3) [[unlikely]]
    return packed::store(packed::div_rest(x, packed::load(b), domain));
  return packed::store(_mm_div_pd(x, _mm_shuffle_pd(y, y, 1)));
}

#else

inline Interval add(const Interval& a, const Interval& b) { return {a.neg_lo + b.neg_lo, a.hi + b.hi}; }

inline Interval sub(const Interval& a, const Interval& b) { return {a.neg_lo + b.hi, a.hi + b.neg_lo}; }

inline Interval mul(const Interval& a, const Interval& b) {
  if (a.neg_lo <= 0 && b.neg_lo <= 0) {
    const Interval product{a.neg_lo * -b.neg_lo, a.hi * b.hi};
    if (product.hi < std::numeric_limits<double>::infinity()) return product;
  }
  return mul_general(a, b);
}

inline Interval div(const Interval& a, const Interval& b, Domain* domain) {
  return div_general(a, b, domain);
}

#endif

}  // namespace mm

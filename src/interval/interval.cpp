// The operations that hardware rounds correctly. With (-lo, hi) and upward rounding a bound is one
// operation: -(x * y) rounded down is (-x) * y rounded up.
#include "interval/interval.hpp"

#include <algorithm>
#include <cfenv>
#include <cmath>

#include "interval/domain.hpp"

namespace mm {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double largest = std::numeric_limits<double>::max();

/// Product of two bounds, upward; an infinite bound times zero is zero.
double times(double x, double y) {
  const double product = x * y;
  return product == product ? product : 0.0;
}

/// Square root rounded down, from the one rounded up.
double sqrt_down(double x) {
  const double up = std::sqrt(x);
  const bool is_exact = up * up == x && -(-up * up) == x;
  return is_exact ? up : std::nextafter(up, 0.0);
}

bool holds_zero(Interval a) { return a.neg_lo >= 0 && a.hi >= 0; }

}  // namespace

RoundUp::RoundUp() : former_(std::fegetround()) {
  if (former_ != FE_UPWARD) std::fesetround(FE_UPWARD);
}

RoundUp::~RoundUp() {
  if (former_ != FE_UPWARD) std::fesetround(former_);
}

Interval mul_general(const Interval& a, const Interval& b) {
  if (a.is_empty() || b.is_empty()) return Interval::empty();
  if (a.neg_lo <= 0) {
    if (b.neg_lo <= 0) return {times(a.neg_lo, -b.neg_lo), times(a.hi, b.hi)};
    if (b.hi <= 0) return {times(a.hi, b.neg_lo), times(-a.neg_lo, b.hi)};
    return {times(a.hi, b.neg_lo), times(a.hi, b.hi)};
  }
  if (a.hi <= 0) {
    if (b.neg_lo <= 0) return {times(a.neg_lo, b.hi), times(a.hi, -b.neg_lo)};
    if (b.hi <= 0) return {times(-a.hi, b.hi), times(a.neg_lo, b.neg_lo)};
    return {times(a.neg_lo, b.hi), times(a.neg_lo, b.neg_lo)};
  }
  if (b.neg_lo <= 0) return {times(a.neg_lo, b.hi), times(a.hi, b.hi)};
  if (b.hi <= 0) return {times(a.hi, b.neg_lo), times(a.neg_lo, b.neg_lo)};
  return {std::max(times(a.neg_lo, b.hi), times(a.hi, b.neg_lo)),
          std::max(times(a.neg_lo, b.neg_lo), times(a.hi, b.hi))};
}

Interval div_general(Interval a, Interval b, Domain* domain) {
  if (a.is_empty() || b.is_empty()) return Interval::empty();
  if (holds_zero(b)) {
    if (b.is_point()) {
      lower(domain, Domain::none);
      return Interval::empty();
    }
    lower(domain, Domain::part);
    if (a.is_point() && a.hi == 0) return Interval::point(0);
    if ((a.neg_lo > 0 && a.hi > 0) || (b.neg_lo > 0 && b.hi > 0)) return Interval::entire();
    if (b.hi > 0) {  // b = [0, b.hi]
      return a.neg_lo <= 0 ? Interval{a.neg_lo / b.hi, infinity} : Interval{infinity, a.hi / b.hi};
    }
    return a.neg_lo <= 0 ? Interval{infinity, -a.neg_lo / -b.neg_lo} : Interval{a.hi / b.neg_lo, infinity};
  }
  if (b.hi < 0) {  // a / b = -a / -b
    a = neg(a);
    b = neg(b);
  }
  const double b_lo = -b.neg_lo;
  const auto over = [](double x, double near, double far) { return x > 0 ? x / near : x / far; };
  return {over(a.neg_lo, b_lo, b.hi), over(a.hi, b_lo, b.hi)};
}

#ifdef MM_PACKED_INTERVALS
__m128d packed::mul_rest(__m128d a, __m128d b) { return load(mul_general(store(a), store(b))); }
__m128d packed::div_rest(__m128d a, __m128d b, Domain* domain) {
  return load(div_general(store(a), store(b), domain));
}
#endif

Interval abs(Interval a) {
  if (a.is_empty()) return Interval::empty();
  if (a.neg_lo <= 0) return a;
  if (a.hi <= 0) return neg(a);
  return {0.0, std::max(a.neg_lo, a.hi)};
}

Interval min(Interval a, Interval b) {
  if (a.is_empty() || b.is_empty()) return Interval::empty();
  return {std::max(a.neg_lo, b.neg_lo), std::min(a.hi, b.hi)};
}

Interval max(Interval a, Interval b) {
  if (a.is_empty() || b.is_empty()) return Interval::empty();
  return {std::min(a.neg_lo, b.neg_lo), std::max(a.hi, b.hi)};
}

Interval sqr(Interval a) {
  if (a.is_empty()) return Interval::empty();
  const Interval size = abs(a);
  return {size.neg_lo * -size.neg_lo, size.hi * size.hi};
}

Interval sqrt(Interval a, Domain* domain) {
  if (a.is_empty()) return Interval::empty();
  if (a.hi < 0) {
    lower(domain, Domain::none);
    return Interval::empty();
  }
  if (a.neg_lo > 0) lower(domain, Domain::part);
  return {a.neg_lo >= 0 ? 0.0 : -sqrt_down(-a.neg_lo), std::sqrt(a.hi)};
}

Interval floor(Interval a) {
  if (a.is_empty()) return Interval::empty();
  return Interval::of(std::floor(a.lo()), std::floor(a.hi));
}

Interval ceil(Interval a) {
  if (a.is_empty()) return Interval::empty();
  return Interval::of(std::ceil(a.lo()), std::ceil(a.hi));
}

Interval round_half_away(Interval a) {
  if (a.is_empty()) return Interval::empty();
  return Interval::of(std::round(a.lo()), std::round(a.hi));
}

Interval pi_interval() { return Interval::of(0x1.921fb54442d18p+1, 0x1.921fb54442d19p+1); }

Interval hull(Interval a, Interval b) {
  if (a.is_empty()) return b;
  if (b.is_empty()) return a;
  return {std::max(a.neg_lo, b.neg_lo), std::max(a.hi, b.hi)};
}

Interval intersect(Interval a, Interval b) {
  if (a.is_empty() || b.is_empty()) return Interval::empty();
  const Interval common{std::min(a.neg_lo, b.neg_lo), std::min(a.hi, b.hi)};
  return common.is_empty() ? Interval::empty() : common;
}

double midpoint(Interval a) {
  if (a.is_empty()) return std::numeric_limits<double>::quiet_NaN();
  if (a.neg_lo == infinity) return a.hi == infinity ? 0.0 : -largest;
  if (a.hi == infinity) return largest;
  const int former = std::fegetround();
  std::fesetround(FE_TONEAREST);
  volatile double low = -a.neg_lo, high = a.hi;  // volatile: keeps the sum between the two mode changes
  volatile double middle = (low + high) / 2;
  if (!(std::fabs(middle) <= largest)) middle = low / 2 + high / 2;
  std::fesetround(former);
  return middle;
}

double width(Interval a) {
  if (a.is_empty()) return std::numeric_limits<double>::quiet_NaN();
  return a.hi + a.neg_lo;
}

double magnitude(Interval a) {
  if (a.is_empty()) return std::numeric_limits<double>::quiet_NaN();
  return std::max(std::abs(a.lo()), std::abs(a.hi));
}

}  // namespace mm

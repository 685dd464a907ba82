// Reverse of x^y. With u = ln x the equation x^y = c is u * y = ln c, so both unknowns are a quotient of
// signed ranges, exactly as in the reverse of a product; only the bounds are evaluated differently:
// c^(1/y) for the base, ln c / ln x for the exponent. Zero is no logarithm and is added by hand.
// Each bound knows whether the solutions reach it, so that an x which only touches one from outside
// (or from within the rounding) meets nothing.
#include <algorithm>
#include <cmath>

#include "interval/mpfr_number.hpp"
#include "interval/reverse.hpp"

namespace mm {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr mpfr_prec_t working_bits = 320;  // far more than the distance of a bound from a double needs

struct Bound {
  double at;
  bool reached;  // a solution lies at this very double
};

struct Piece {
  Bound lo, hi;
};

/// A range and the double that stands for the zero of the quotient: 1 for a logarithm, 0 for a factor.
struct Signed {
  double lo, hi, zero;
  bool holds_zero() const { return lo <= zero && zero <= hi; }
};

/// `value` rounded, or `candidate` where base^exponent is exactly `result`.
Bound settled(const MpfrNumber& value, mpfr_rnd_t rounding, double base, double exponent, double result,
              double candidate) {
  MpfrNumber power(working_bits, base), by(working_bits, exponent);
  const bool is_exact = mpfr_pow(power.get(), power.get(), by.get(), MPFR_RNDN) == 0;
  if (is_exact && mpfr_cmp_d(power.get(), result) == 0) return {candidate, true};
  return {value.to_double(rounding), false};
}

/// c^(1/y)
Bound root_bound(double c, double y, mpfr_rnd_t rounding) {
  if (c == 0 || c == infinity) return {(c == 0) == (y > 0) ? 0.0 : infinity, false};
  if (std::isinf(y)) return {1.0, c == 1};
  MpfrNumber value(working_bits, c), inverse(working_bits, y);
  mpfr_ui_div(inverse.get(), 1, inverse.get(), MPFR_RNDN);
  mpfr_pow(value.get(), value.get(), inverse.get(), rounding);
  const double candidate = value.to_double(MPFR_RNDN);
  if (candidate == 0 || candidate == infinity) return {value.to_double(rounding), false};
  return settled(value, rounding, candidate, y, c, candidate);
}

/// ln c / ln x
Bound exponent_bound(double c, double x, mpfr_rnd_t rounding) {
  if (c == 1) return {0.0, true};
  if (x == 0 || x == infinity) return {0.0, false};
  if (c == 0 || c == infinity) return {(c == 0) == (x > 1) ? -infinity : infinity, false};
  MpfrNumber value(working_bits, c), by(working_bits, x);
  mpfr_log(value.get(), value.get(), MPFR_RNDN);
  mpfr_log(by.get(), by.get(), MPFR_RNDN);
  mpfr_div(value.get(), value.get(), by.get(), MPFR_RNDN);
  const double candidate = value.to_double(MPFR_RNDN);
  return settled(value, rounding, x, candidate, c, candidate);
}

Interval meet(Piece piece, Interval x) {
  const Interval common = intersect(Interval::of(piece.lo.at, piece.hi.at), x);
  if (common.is_empty() || !common.is_point()) return common;
  const bool missed =
      (common.hi == piece.lo.at && !piece.lo.reached) || (common.hi == piece.hi.at && !piece.hi.reached);
  return missed ? Interval::empty() : common;
}

/// The hull of x and top / by, where bound(c, d, rounding) evaluates one bound of the quotient.
template <class Evaluate>
Interval quotient(Signed top, Signed by, Evaluate bound, double bottom, Interval x) {
  const auto down = [bound](double c, double d) { return bound(c, d, MPFR_RNDD); };
  const auto up = [bound](double c, double d) { return bound(c, d, MPFR_RNDU); };
  const Bound least{bottom, false}, most{infinity, false};
  if (by.holds_zero()) {
    if (top.holds_zero()) return meet({least, most}, x);
    const bool positive = top.lo > top.zero;
    const double near = positive ? top.lo : top.hi;
    const double below_by = positive ? by.lo : by.hi, above_by = positive ? by.hi : by.lo;
    Interval result = Interval::empty();
    if (below_by != by.zero) result = hull(result, meet({least, up(near, below_by)}, x));
    if (above_by != by.zero) result = hull(result, meet({down(near, above_by), most}, x));
    return result;
  }
  if (by.lo > by.zero) {
    return meet(
        {down(top.lo, top.lo < top.zero ? by.lo : by.hi), up(top.hi, top.hi < top.zero ? by.hi : by.lo)}, x);
  }
  return meet(
      {down(top.hi, top.hi < top.zero ? by.lo : by.hi), up(top.lo, top.lo < top.zero ? by.hi : by.lo)}, x);
}

double at_least_zero(Interval a) { return a.neg_lo < 0 ? -a.neg_lo : 0.0; }

}  // namespace

Interval pow_rev1(Interval b, Interval c, Interval x) {
  if (b.is_empty() || c.is_empty() || x.is_empty()) return Interval::empty();
  Interval result = Interval::empty();
  if (c.hi > 0 && x.hi > 0) {
    result = quotient({at_least_zero(c), c.hi, 1}, {b.lo(), b.hi, 0}, root_bound, 0.0, x);
  }
  if (c.contains(0) && x.contains(0) && b.hi > 0) result = hull(result, Interval::point(0));
  return result;
}

Interval pow_rev2(Interval a, Interval c, Interval y) {
  if (a.is_empty() || c.is_empty() || y.is_empty()) return Interval::empty();
  Interval result = Interval::empty();
  if (a.hi > 0 && c.hi > 0) {
    result = quotient({at_least_zero(c), c.hi, 1}, {at_least_zero(a), a.hi, 1}, exponent_bound, -infinity, y);
  }
  if (a.contains(0) && c.contains(0) && y.hi > 0)
    result = hull(result, intersect(y, Interval::of(0, infinity)));
  return result;
}

}  // namespace mm

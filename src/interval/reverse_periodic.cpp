// Reverse of sine, cosine and tangent. The solutions are one or two arcs, repeated with the period; the
// lowest and the highest that meet x bound the result. An end of an arc (but 0) is never a double, and
// the working precision is far beyond the distance between them, so rounding each end once is tightest.
#include <algorithm>
#include <cmath>
#include <memory>
#include <vector>

#include "interval/mpfr_number.hpp"
#include "interval/reverse.hpp"

namespace mm {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

struct Arc {
  explicit Arc(mpfr_prec_t bits) : lo(bits), hi(bits) {}
  MpfrNumber lo, hi;
};

mpfr_prec_t bits_for(Interval x) {
  mpfr_prec_t bits = 256;
  for (const double bound : {x.neg_lo, x.hi}) {
    if (bound != 0 && std::isfinite(bound)) bits = std::max<mpfr_prec_t>(bits, 256 + std::ilogb(bound));
  }
  return bits;
}

/// end + period * k, with k = (x - from) / period rounded.
void shifted(MpfrNumber& out, const MpfrNumber& end, const MpfrNumber& from, double x,
             const MpfrNumber& period, mpfr_rnd_t whole) {
  mpfr_ptr value = out.get();
  mpfr_d_sub(value, x, from.get(), MPFR_RNDN);
  mpfr_div(value, value, period.get(), MPFR_RNDN);
  mpfr_rint(value, value, whole);
  mpfr_mul(value, value, period.get(), MPFR_RNDN);
  mpfr_add(value, value, end.get(), MPFR_RNDN);
}

/// The hull of x and one arc with all its repetitions.
Interval met_by(const Arc& arc, const MpfrNumber& period, Interval x) {
  MpfrNumber end(mpfr_get_prec(arc.lo.get()));
  Interval result = x;
  if (x.neg_lo < infinity) {
    shifted(end, arc.lo, arc.hi, x.lo(), period, MPFR_RNDU);
    if (mpfr_cmp_d(end.get(), x.hi) > 0) return Interval::empty();
    result.neg_lo = std::min(x.neg_lo, -end.to_double(MPFR_RNDD));
  }
  if (x.hi < infinity) {
    shifted(end, arc.hi, arc.lo, x.hi, period, MPFR_RNDD);
    if (mpfr_cmp_d(end.get(), x.lo()) < 0) return Interval::empty();
    result.hi = std::min(x.hi, end.to_double(MPFR_RNDU));
  }
  return result;
}

Interval met_by(const std::vector<std::unique_ptr<Arc>>& arcs, unsigned half_turns, Interval x) {
  MpfrNumber period(bits_for(x));
  mpfr_const_pi(period.get(), MPFR_RNDN);
  mpfr_mul_ui(period.get(), period.get(), half_turns, MPFR_RNDN);
  Interval result = Interval::empty();
  for (const auto& arc : arcs) result = hull(result, met_by(*arc, period, x));
  return result;
}

void set(MpfrNumber& to, int (*f)(mpfr_ptr, mpfr_srcptr, mpfr_rnd_t), double x) {
  mpfr_set_d(to.get(), x, MPFR_RNDN);
  f(to.get(), to.get(), MPFR_RNDN);
}

bool all_angles(Interval c) { return c.lo() <= -1 && c.hi >= 1; }

}  // namespace

Interval sin_rev(Interval c, Interval x) {
  const Interval value = intersect(c, Interval::of(-1, 1));
  if (value.is_empty() || x.is_empty()) return Interval::empty();
  if (all_angles(value)) return x;
  const mpfr_prec_t bits = bits_for(x);
  std::vector<std::unique_ptr<Arc>> arcs;
  auto& rise = *arcs.emplace_back(std::make_unique<Arc>(bits));
  auto& fall = *arcs.emplace_back(std::make_unique<Arc>(bits));
  set(rise.lo, mpfr_asin, value.lo());
  set(rise.hi, mpfr_asin, value.hi);
  MpfrNumber pi(bits);
  mpfr_const_pi(pi.get(), MPFR_RNDN);
  mpfr_sub(fall.lo.get(), pi.get(), rise.hi.get(), MPFR_RNDN);
  mpfr_sub(fall.hi.get(), pi.get(), rise.lo.get(), MPFR_RNDN);
  return met_by(arcs, 2, x);
}

Interval cos_rev(Interval c, Interval x) {
  const Interval value = intersect(c, Interval::of(-1, 1));
  if (value.is_empty() || x.is_empty()) return Interval::empty();
  if (all_angles(value)) return x;
  const mpfr_prec_t bits = bits_for(x);
  std::vector<std::unique_ptr<Arc>> arcs;
  auto& fall = *arcs.emplace_back(std::make_unique<Arc>(bits));
  auto& rise = *arcs.emplace_back(std::make_unique<Arc>(bits));
  set(fall.lo, mpfr_acos, value.hi);
  set(fall.hi, mpfr_acos, value.lo());
  mpfr_neg(rise.lo.get(), fall.hi.get(), MPFR_RNDN);
  mpfr_neg(rise.hi.get(), fall.lo.get(), MPFR_RNDN);
  return met_by(arcs, 2, x);
}

Interval tan_rev(Interval c, Interval x) {
  if (c.is_empty() || x.is_empty()) return Interval::empty();
  if (c == Interval::entire()) return x;
  const mpfr_prec_t bits = bits_for(x);
  std::vector<std::unique_ptr<Arc>> arcs;
  auto& rise = *arcs.emplace_back(std::make_unique<Arc>(bits));
  set(rise.lo, mpfr_atan, c.lo());
  set(rise.hi, mpfr_atan, c.hi);
  return met_by(arcs, 1, x);
}

}  // namespace mm

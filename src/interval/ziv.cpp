#include "interval/ziv.hpp"

#include "interval/domain.hpp"

namespace mm {

void assign(MpfrNumber& to, const Extended& from, mpfr_rnd_t rounding) {
  if (from.infinite != 0) {
    mpfr_set_inf(to.get(), from.infinite);
  } else {
    mpfr_set_q(to.get(), from.value.gmp().get_mpq_t(), rounding);
  }
}

bool narrow_enough(const Enclosure& value) {
  constexpr mpfr_exp_t negligible = -4096;  // limited() knows no smaller numbers
  if (mpfr_equal_p(value.lo.get(), value.hi.get())) return true;
  if (mpfr_inf_p(value.lo.get()) || mpfr_inf_p(value.hi.get()))
    return mpfr_sgn(value.lo.get()) == mpfr_sgn(value.hi.get());
  const auto tiny = [](const MpfrNumber& x) {
    return mpfr_zero_p(x.get()) || mpfr_get_exp(x.get()) < negligible;
  };
  if (tiny(value.lo) && tiny(value.hi)) return true;
  MpfrNumber width(64);
  mpfr_sub(width.get(), value.hi.get(), value.lo.get(), MPFR_RNDU);
  if (mpfr_sgn(width.get()) < 0 || mpfr_zero_p(value.lo.get()) || mpfr_zero_p(value.hi.get())) return false;
  return mpfr_get_exp(width.get()) < mpfr_get_exp(value.hi.get()) - 100;
}

Extended rising(MpfrFunction f, const Extended& x, Outward side) {
  return bound(
      [&](Enclosure& value, mpfr_prec_t bits) {
        const Enclosure at(bits, x);
        f(value.lo.get(), at.lo.get(), MPFR_RNDD);
        f(value.hi.get(), at.hi.get(), MPFR_RNDU);
      },
      side);
}

ExactInterval restricted(const ExactInterval& a, const ExactInterval& where, Domain* domain) {
  const ExactInterval inside = intersect(a, where);
  if (inside.empty) {
    if (!a.empty) lower(domain, Domain::none);
  } else if (compare(lo_bound(inside), lo_bound(a)) != 0 || compare(hi_bound(inside), hi_bound(a)) != 0) {
    lower(domain, Domain::part);
  }
  return inside;
}

ExactInterval not_negative() { return interval_of(Extended{}, Extended::infinity(1)); }

}  // namespace mm

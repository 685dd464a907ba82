// Exponential, logarithm and trigonometric functions of exact intervals.
#include <algorithm>

#include "interval/domain.hpp"
#include "interval/quadrant.hpp"
#include "interval/ziv.hpp"

namespace mm {
namespace {

ExactInterval rising(MpfrFunction f, const ExactInterval& a) {
  if (a.empty) return a;
  return interval_of(rising(f, lo_bound(a), Outward::down), rising(f, hi_bound(a), Outward::up));
}

/// Sine or cosine at one place: neither changes faster than its argument.
Extended wave_at(MpfrFunction f, const Extended& x, Outward side) {
  return bound(
      [&](Enclosure& value, mpfr_prec_t bits) {
        const Enclosure at(bits, x);
        MpfrNumber spread(64);
        mpfr_sub(spread.get(), at.hi.get(), at.lo.get(), MPFR_RNDU);
        f(value.lo.get(), at.lo.get(), MPFR_RNDD);
        f(value.hi.get(), at.lo.get(), MPFR_RNDU);
        mpfr_sub(value.lo.get(), value.lo.get(), spread.get(), MPFR_RNDD);
        mpfr_add(value.hi.get(), value.hi.get(), spread.get(), MPFR_RNDU);
      },
      side);
}

/// floor(x / (pi/2)), erring to the given side where no precision up to the last settles it.
mpz_class quarters(const Rational& x, Outward side) {
  if (x.sign() == 0) return 0;
  for (mpfr_prec_t bits = ziv_first_bits;; bits *= 2) {
    Enclosure at(bits, {x, 0}), pi(bits);
    mpfr_const_pi(pi.lo.get(), MPFR_RNDD);
    mpfr_const_pi(pi.hi.get(), MPFR_RNDU);
    mpfr_div(at.lo.get(), at.lo.get(), x.sign() > 0 ? pi.hi.get() : pi.lo.get(), MPFR_RNDD);
    mpfr_div(at.hi.get(), at.hi.get(), x.sign() > 0 ? pi.lo.get() : pi.hi.get(), MPFR_RNDU);
    mpz_class least, most;
    for (auto [number, whole] : {std::pair{&at.lo, &least}, std::pair{&at.hi, &most}}) {
      mpfr_mul_2ui(number->get(), number->get(), 1, MPFR_RNDN);
      mpfr_get_z(whole->get_mpz_t(), number->get(), MPFR_RNDD);
    }
    if (least == most || bits >= ziv_last_bits) return side == Outward::down ? least : most;
  }
}

ExactInterval wave(MpfrFunction f, const ExactInterval& a, unsigned crest, unsigned trough) {
  if (a.empty) return a;
  ExactInterval result = ExactInterval::of(-1, 1);
  if (a.lo_infinite || a.hi_infinite) return result;
  const mpz_class first = quarters(a.lo_value, Outward::down), last = quarters(a.hi_value, Outward::up);
  const auto most = [&](Outward side, bool larger) {
    const Extended left = wave_at(f, lo_bound(a), side), right = wave_at(f, hi_bound(a), side);
    return larger ? std::max(left, right).value : std::min(left, right).value;
  };
  if (!passes(first, last, crest, 4)) result.hi_value = std::min<Rational>(1, most(Outward::up, true));
  if (!passes(first, last, trough, 4)) result.lo_value = std::max<Rational>(-1, most(Outward::down, false));
  return result;
}

}  // namespace

ExactInterval exp(const ExactInterval& a) { return rising(mpfr_exp, a); }

ExactInterval log(const ExactInterval& a, Domain* domain) {
  const ExactInterval inside = restricted(a, not_negative(), domain);
  if (inside.empty) return inside;
  if (hi_bound(inside).sign() == 0) {
    lower(domain, Domain::none);
    return ExactInterval::none();
  }
  if (lo_bound(inside).sign() == 0) lower(domain, Domain::part);
  return rising(mpfr_log, inside);
}

ExactInterval sin(const ExactInterval& radians) { return wave(mpfr_sin, radians, 1, 3); }
ExactInterval cos(const ExactInterval& radians) { return wave(mpfr_cos, radians, 0, 2); }

ExactInterval tan(const ExactInterval& radians, Domain* domain) {
  if (radians.empty) return radians;
  const bool bounded = !radians.lo_infinite && !radians.hi_infinite;
  if (!bounded ||
      passes(quarters(radians.lo_value, Outward::down), quarters(radians.hi_value, Outward::up), 1, 2)) {
    lower(domain, Domain::part);
    return ExactInterval::entire();
  }
  return rising(mpfr_tan, radians);
}

ExactInterval asin(const ExactInterval& a, Domain* domain) {
  return rising(mpfr_asin, restricted(a, ExactInterval::of(-1, 1), domain));
}

ExactInterval acos(const ExactInterval& a, Domain* domain) {
  const ExactInterval inside = restricted(a, ExactInterval::of(-1, 1), domain);
  if (inside.empty) return inside;
  const auto at = [](const Extended& x, Outward side) {  // acos falls
    return bound(
        [&](Enclosure& value, mpfr_prec_t bits) {
          const Enclosure place(bits, x);
          mpfr_acos(value.lo.get(), place.hi.get(), MPFR_RNDD);
          mpfr_acos(value.hi.get(), place.lo.get(), MPFR_RNDU);
        },
        side);
  };
  return interval_of(at(hi_bound(inside), Outward::down), at(lo_bound(inside), Outward::up));
}

ExactInterval atan(const ExactInterval& a) { return rising(mpfr_atan, a); }

ExactInterval pi_exact() {
  const auto pi = [](Outward side) {
    return bound(
        [](Enclosure& value, mpfr_prec_t) {
          mpfr_const_pi(value.lo.get(), MPFR_RNDD);
          mpfr_const_pi(value.hi.get(), MPFR_RNDU);
        },
        side);
  };
  static const ExactInterval value = interval_of(pi(Outward::down), pi(Outward::up));
  return value;
}

ExactInterval pi_exact(int power) {
  ExactInterval out = ExactInterval::point(1);
  for (int i = 0; i < power; ++i) out = mul(out, pi_exact());
  for (int i = 0; i > power; --i) out = div(out, pi_exact());
  return out;
}

}  // namespace mm

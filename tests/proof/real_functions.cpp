// Roots, powers, logarithms and angles by MPFR, each bound rounded to its own side.
#include <mpfr.h>

#include <algorithm>

#include "real.hpp"

namespace mm_proof {

namespace {

constexpr mpfr_prec_t bits = 200;
constexpr unsigned long most_factors = 8;  // of a power that is written out

struct Big {
  mpfr_t x;
  Big() { mpfr_init2(x, bits); }
  explicit Big(const Rational& value, mpfr_rnd_t side) : Big() { mpfr_set_q(x, value.get_mpq_t(), side); }
  ~Big() { mpfr_clear(x); }
  Big(const Big&) = delete;
  Big& operator=(const Big&) = delete;
  Rational exact() const {
    Rational out;
    mpfr_get_q(out.get_mpq_t(), x);
    return out;
  }
  bool sane() const {
    return mpfr_number_p(x) != 0 &&
           (mpfr_zero_p(x) != 0 || (mpfr_get_exp(x) < 4000 && mpfr_get_exp(x) > -4000));
  }
};

Real state_of(Real out, const Real& a) {
  out.undef = out.undef || a.undef;
  out.exists = out.exists && a.exists;
  out.jumps = out.jumps || a.jumps;
  return out;
}

using Function = int (*)(mpfr_t, const mpfr_t, mpfr_rnd_t);

/// A rising function on what is surely in its domain.
Real rising(Function function, const Real& a) {
  Big low(a.lo, MPFR_RNDD), high(a.high(), MPFR_RNDU);
  function(low.x, low.x, MPFR_RNDD);
  function(high.x, high.x, MPFR_RNDU);
  if (!low.sane() || !high.sane()) return Real::anything();
  return Real::between(low.exact(), high.exact());
}

const Real& half_turn_per_pi() {
  static const Real out = div(Real(180), pi());
  return out;
}

/// What of a lies in lo..hi; undefined may be where a reaches beyond.
Real inside(const Real& a, const Rational* lo, bool lo_open, const Rational* hi) {
  Real out = a;
  if (!a.known) {
    out.undef = true;
    return out;
  }
  Rational from = a.lo, to = a.high();
  const auto below = [&](const Rational& x) { return lo != nullptr && (x < *lo || (lo_open && x == *lo)); };
  const auto above = [&](const Rational& x) { return hi != nullptr && x > *hi; };
  if (below(to) || above(from)) return Real::nothing();
  const bool cut = below(from) || above(to);
  if (below(from)) from = *lo;
  if (above(to)) to = *hi;
  out = state_of(Real::between(from, to), a);
  out.undef = out.undef || cut;
  return out;
}

}  // namespace

Real pi() {
  static const Real out = [] {
    Big low, high;
    mpfr_const_pi(low.x, MPFR_RNDD);
    mpfr_const_pi(high.x, MPFR_RNDU);
    return Real::between(low.exact(), high.exact());
  }();
  return out;
}

Real sqrt(const Real& a) {
  static const Rational zero = 0;
  const Real part = inside(a, &zero, false, nullptr);
  if (!part.known || !part.exists) return part.exists ? state_of(Real::anything(), part) : part;
  if (part.point && mpz_perfect_square_p(part.lo.get_num_mpz_t()) != 0 &&
      mpz_perfect_square_p(part.lo.get_den_mpz_t()) != 0) {
    Real out = part;
    mpz_sqrt(out.lo.get_num_mpz_t(), part.lo.get_num_mpz_t());
    mpz_sqrt(out.lo.get_den_mpz_t(), part.lo.get_den_mpz_t());
    return out;
  }
  return state_of(rising(mpfr_sqrt, part), part);
}

Real exp(const Real& a) {
  if (!a.known || a.high() > 2000 || a.lo < -2000) return state_of(Real::anything(), a);
  if (a.point && a.lo == 0) return state_of(Real(1), a);
  return state_of(rising(mpfr_exp, a), a);
}

Real ln(const Real& a) {
  static const Rational zero = 0;
  const Real part = inside(a, &zero, true, nullptr);
  if (!part.exists) return part;
  if (!part.known || part.lo <= 0) return state_of(Real::anything(), part);
  if (part.point && part.lo == 1) return state_of(Real(0), part);
  return state_of(rising(mpfr_log, part), part);
}

Real atan(const Real& a) {
  if (!a.known) return state_of(Real::between(-90, 90), a);
  return state_of(mul(rising(mpfr_atan, a), half_turn_per_pi()), a);
}

Real asin(const Real& a) {
  static const Rational low = -1, high = 1;
  const Real part = inside(a, &low, false, &high);
  if (!part.exists) return part;
  if (!part.known) return state_of(Real::between(-90, 90), part);
  return state_of(mul(rising(mpfr_asin, part), half_turn_per_pi()), part);
}

Real acos(const Real& a) { return sub(Real(90), asin(a)); }

Real sin(const Real& degrees) {
  const Real one = Real::between(-1, 1);
  if (!degrees.known) return state_of(one, degrees);
  // no steeper than pi/180 a degree: the middle, give or take half the width
  const Rational middle = (degrees.lo + degrees.high()) / 2;
  const Rational turns = floor(Real(middle / 360)).lo;
  const Real angle = div(mul(Real(middle - 360 * turns), pi()), Real(180));
  Big value(angle.lo, MPFR_RNDD);
  mpfr_sin(value.x, value.x, MPFR_RNDD);
  static const Rational grain = Rational(1) / Rational(mpz_class(1) << 190);
  const Rational reach = (degrees.high() - degrees.lo) / 2 * Rational(2, 100) + grain;
  const Real near = Real::between(value.exact() - reach, value.exact() + reach);
  return state_of(max(Real(-1), min(Real(1), near)), degrees);
}

Real cos(const Real& degrees) { return sin(add(degrees, Real(90))); }

Real tan(const Real& degrees) {
  if (!degrees.known) {
    Real out = state_of(Real::anything(), degrees);
    out.undef = true;
    return out;
  }
  const Rational before = floor(Real((degrees.lo - 90) / 180)).lo,
                 after = floor(Real((degrees.high() - 90) / 180)).lo;
  const bool at_pole = (degrees.lo - 90) / 180 == before;
  if (at_pole && degrees.point) return Real::nothing();
  if (at_pole || before != after) {
    Real out = state_of(Real::anything(), degrees);
    out.undef = true;
    return out;
  }
  const auto one = [](const Rational& x) { return div(sin(Real(x)), cos(Real(x))); };
  if (degrees.point) return state_of(one(degrees.lo), degrees);
  return state_of(Real::between(one(degrees.lo).lo, one(degrees.hi).high()), degrees);
}

namespace {

Real whole_power(const Real& a, unsigned long n) {
  const auto power = [n](const Rational& x) {
    Rational out;
    mpz_pow_ui(out.get_num_mpz_t(), x.get_num_mpz_t(), n);
    mpz_pow_ui(out.get_den_mpz_t(), x.get_den_mpz_t(), n);
    return out;
  };
  if (n == 0) return state_of(Real(1), a);
  if (!a.known) return a;
  const Real base = n % 2 == 0 ? abs(a) : a;
  if (base.point) return state_of(Real(power(base.lo)), a);
  Real out = Real::between(power(base.lo), power(base.hi));
  if (n <= most_factors && !a.form.empty()) {
    Real product = a;
    for (unsigned long i = 1; i < n; ++i) product = mul(product, a);
    out.form = product.form;
  }
  return state_of(out, a);
}

}  // namespace

Real pow(const Real& a, const Real& b) {
  Real lost = state_of(state_of(Real::anything(), a), b);
  lost.undef = true;
  if (!a.exists || !b.exists) return Real::nothing();
  if (!b.known || !a.known) return lost;
  if (b.point && b.lo.get_den() == 1 && ::abs(b.lo) <= 64) {
    const Real power = whole_power(a, static_cast<unsigned long>(std::labs(b.lo.get_num().get_si())));
    return state_of(b.lo >= 0 ? power : div(Real(1), power), b);
  }
  if (b.point && a.point && a.lo < 0) return Real::nothing();
  if (b.point && a.point && a.lo == 0) return b.lo > 0 ? state_of(Real(0), b) : Real::nothing();
  if (a.lo <= 0 || !b.point) {
    if (a.lo <= 0) return lost;
  }
  return state_of(exp(mul(b, ln(a))), b);
}

}  // namespace mm_proof

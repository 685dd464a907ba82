// Functions that hardware does not round correctly: MPFR computes each bound in its direction, so the
// bounds are the tightest. What is left here is where each function rises, falls and ends.
#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstdint>
#include <limits>
#include <type_traits>

#include "interval/domain.hpp"
#include "interval/interval.hpp"
#include "interval/mpfr_number.hpp"
#include "interval/quadrant.hpp"

namespace mm {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

using MpfrCall = int (*)(mpfr_ptr, mpfr_srcptr, mpfr_rnd_t);

/// A function at one double, rounded both ways.
struct Bracket {
  MpfrCall function = nullptr;
  double x = 0, down = 0, up = 0;
};

Bracket bracket(MpfrCall f, double x) {
  mpfr_ptr value = scratch(0).get();
  mpfr_set_d(value, x, MPFR_RNDN);
  const bool exact = f(value, value, MPFR_RNDD) == 0;
  const double down = mpfr_get_d(value, MPFR_RNDD);
  // below the normal numbers the 53 bits are not those of a double
  if (!(std::abs(down) > std::numeric_limits<double>::min())) return {f, x, down, rounded(f, x, MPFR_RNDU)};
  return {f, x, down, exact ? mpfr_get_d(value, MPFR_RNDU) : std::nextafter(down, infinity)};
}

/// The same few ends come back with every look at a requirement, and each costs thousands of instructions.
const Bracket& known_bracket(MpfrCall f, double x) {
  constexpr std::size_t kept = 64;
  thread_local std::array<Bracket, kept> known;
  const std::uint64_t mixed =
      (std::bit_cast<std::uint64_t>(x) ^ std::bit_cast<std::uintptr_t>(f)) * 0x9E3779B97F4A7C15U;
  Bracket& slot = known[mixed >> 58U];
  const bool same =
      slot.function == f && std::bit_cast<std::uint64_t>(slot.x) == std::bit_cast<std::uint64_t>(x);
  if (!same) slot = bracket(f, x);
  return slot;
}

template <class Function>
double at_end(Function f, double x, mpfr_rnd_t rounding) {
  if constexpr (std::is_same_v<Function, MpfrCall>) {
    const Bracket& at = known_bracket(f, x);
    return rounding == MPFR_RNDD ? at.down : at.up;
  } else {
    return rounded(f, x, rounding);
  }
}

template <class Function>
Interval rising(Function f, Interval a) {
  return Interval::of(at_end(f, a.lo(), MPFR_RNDD), at_end(f, a.hi, MPFR_RNDU));
}

template <class Function>
Interval falling(Function f, Interval a) {
  return Interval::of(at_end(f, a.hi, MPFR_RNDD), at_end(f, a.lo(), MPFR_RNDU));
}

/// The part of `a` inside `where`; lowers `domain` for what is cut off.
Interval restricted(Interval a, Interval where, Domain* domain) {
  const Interval inside = intersect(a, where);
  if (inside.is_empty()) {
    lower(domain, Domain::none);
  } else if (!(inside == a)) {
    lower(domain, Domain::part);
  }
  return inside;
}

double power_of(double x, double y, mpfr_rnd_t rounding) {
  mpfr_ptr base = scratch(0).get(), exponent = scratch(1).get();
  mpfr_set_d(base, x, MPFR_RNDN);
  mpfr_set_d(exponent, y, MPFR_RNDN);
  mpfr_pow(base, base, exponent, rounding);
  return mpfr_get_d(base, rounding);
}

/// Sine (crest after 1 quarter turn, trough after 3) or cosine (crest at 0, trough after 2).
template <class Function>
Interval wave(Function f, Interval a, unsigned crest, unsigned trough) {
  if (a.is_empty()) return Interval::empty();
  if (a.neg_lo == infinity || a.hi == infinity) return Interval::of(-1, 1);
  const mpz_class first = quarter_turns(a.lo()), last = quarter_turns(a.hi);
  Interval result = Interval::of(-1, 1);
  if (!passes(first, last, crest, 4)) {
    result.hi = std::max(at_end(f, a.lo(), MPFR_RNDU), at_end(f, a.hi, MPFR_RNDU));
  }
  if (!passes(first, last, trough, 4)) {
    result.neg_lo = std::max(-at_end(f, a.lo(), MPFR_RNDD), -at_end(f, a.hi, MPFR_RNDD));
  }
  return result;
}

}  // namespace

MpfrNumber& scratch(int which) {
  thread_local MpfrNumber first(53), second(53);
  return which == 0 ? first : second;
}

Interval exp(Interval a) { return a.is_empty() ? Interval::empty() : rising(mpfr_exp, a); }

Interval log(Interval a, Domain* domain) {
  if (a.is_empty()) return Interval::empty();
  if (a.hi <= 0) {
    lower(domain, Domain::none);
    return Interval::empty();
  }
  if (a.neg_lo >= 0) lower(domain, Domain::part);
  return rising(mpfr_log, Interval::of(a.neg_lo < 0 ? -a.neg_lo : 0.0, a.hi));
}

Interval sin(Interval radians) { return wave(mpfr_sin, radians, 1, 3); }

Interval cos(Interval radians) { return wave(mpfr_cos, radians, 0, 2); }

Interval tan(Interval radians, Domain* domain) {
  if (radians.is_empty()) return Interval::empty();
  const bool bounded = radians.neg_lo < infinity && radians.hi < infinity;
  if (!bounded || passes(quarter_turns(radians.lo()), quarter_turns(radians.hi), 1, 2)) {
    lower(domain, Domain::part);
    return Interval::entire();
  }
  return rising(mpfr_tan, radians);
}

Interval asin(Interval a, Domain* domain) {
  if (a.is_empty()) return Interval::empty();
  const Interval inside = restricted(a, Interval::of(-1, 1), domain);
  return inside.is_empty() ? inside : rising(mpfr_asin, inside);
}

Interval acos(Interval a, Domain* domain) {
  if (a.is_empty()) return Interval::empty();
  const Interval inside = restricted(a, Interval::of(-1, 1), domain);
  return inside.is_empty() ? inside : falling(mpfr_acos, inside);
}

Interval atan(Interval a) { return a.is_empty() ? Interval::empty() : rising(mpfr_atan, a); }

Interval pown(Interval a, int n, Domain* domain) {
  if (a.is_empty()) return Interval::empty();
  if (n == 0) return Interval::point(1);
  if (n == 1) return a;
  if (n == 2) return sqr(a);
  const auto raise = [n](mpfr_ptr to, mpfr_srcptr x, mpfr_rnd_t rounding) {
    return mpfr_pow_si(to, x, n, rounding);
  };
  const bool odd = n % 2 != 0;
  if (n < 0 && a.neg_lo >= 0 && a.hi >= 0) {
    lower(domain, a.is_point() ? Domain::none : Domain::part);
    if (a.is_point()) return Interval::empty();
    // Infinite at zero: from the bound further off, or from both sides for an odd power.
    if (odd && a.neg_lo > 0 && a.hi > 0) return Interval::entire();
    if (odd && a.hi == 0) return Interval::of(-infinity, rounded(raise, a.lo(), MPFR_RNDU));
    return Interval::of(rounded(raise, std::max(a.neg_lo, a.hi), MPFR_RNDD), infinity);
  }
  if (odd) return n > 0 ? rising(raise, a) : falling(raise, a);
  return n > 0 ? rising(raise, abs(a)) : falling(raise, abs(a));
}

// x^y = e^(y ln x) is monotone in x for fixed y and in y for fixed x, so the bounds lie at corners;
// which ones, the signs of y and of ln x tell.
Interval pow(Interval a, Interval b, Domain* domain) {
  if (a.is_empty() || b.is_empty()) return Interval::empty();
  if (a.neg_lo > 0 || (a.neg_lo == 0 && b.neg_lo >= 0)) lower(domain, Domain::part);
  if (a.hi < 0 || (a.hi == 0 && b.hi <= 0)) {
    lower(domain, Domain::none);
    return Interval::empty();
  }
  if (a.hi == 0) return Interval::point(0);
  const double base_lo = a.neg_lo < 0 ? -a.neg_lo : 0.0, base_hi = a.hi, lo = b.lo(), hi = b.hi;
  const auto up = [](double x, double y) { return power_of(x, y, MPFR_RNDU); };
  const auto down = [](double x, double y) { return power_of(x, y, MPFR_RNDD); };
  if (lo >= 0)
    return Interval::of(down(base_lo, base_lo >= 1 ? lo : hi), up(base_hi, base_hi >= 1 ? hi : lo));
  if (hi <= 0)
    return Interval::of(down(base_hi, base_hi >= 1 ? lo : hi), up(base_lo, base_lo >= 1 ? hi : lo));
  return Interval::of(std::min(down(base_lo, hi), down(base_hi, lo)),
                      std::max(up(base_lo, lo), up(base_hi, hi)));
}

}  // namespace mm

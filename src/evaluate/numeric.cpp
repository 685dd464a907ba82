#include "evaluate/numeric.hpp"

#include <cmath>
#include <optional>

namespace mm {

namespace {

Interval two_pi() { return mul(Interval::point(2), pi_interval()); }
ExactInterval two_pi_exact() { return mul(ExactInterval::point(2), pi_exact()); }

/// The angle in twelfths of a turn, 0..11, where it is a whole number of them.
std::optional<long> twelfths(const ExactInterval& turns) {
  if (!turns.is_point()) return std::nullopt;
  const Rational twelve = turns.lo_value * 12;
  if (!twelve.is_whole()) return std::nullopt;
  return whole_word(twelve - floor(turns.lo_value) * 12);
}

/// Twice the sine of a whole number of twelfths, where rational (-2, -1, 0, 1, 2).
std::optional<int> twice_sine(long twelfth) {
  switch (twelfth) {
    case 0:
    case 6:
      return 0;
    case 1:
    case 5:
      return 1;
    case 3:
      return 2;
    case 7:
    case 11:
      return -1;
    case 9:
      return -2;
    default:
      return std::nullopt;
  }
}

ExactInterval halves(int twice) { return ExactInterval::point(Rational(twice, 2)); }

/// Whole turns taken off, so that large angles keep their sharpness.
ExactInterval reduced(const ExactInterval& turns) {
  if (turns.empty || turns.lo_infinite || turns.hi_infinite) return turns;
  const Rational whole = floor(turns.lo_value);
  return ExactInterval::of(turns.lo_value - whole, turns.hi_value - whole);
}

ExactInterval twelfth_point(int twelfth) { return ExactInterval::point(Rational(twelfth, 12)); }

/// asin of -1, -1/2, 0, 1/2, 1 in twelfths of a turn.
std::optional<int> arcsine_twelfths(const ExactInterval& a) {
  if (!a.is_point()) return std::nullopt;
  const Rational twice = a.lo_value * 2;
  if (twice == 0) return 0;
  if (twice == 1) return 1;
  if (twice == 2) return 3;
  if (twice == -1) return -1;
  if (twice == -2) return -3;
  return std::nullopt;
}

}  // namespace

Interval sin_turns(Interval turns) { return sin(mul(two_pi(), turns)); }
Interval cos_turns(Interval turns) { return cos(mul(two_pi(), turns)); }
Interval tan_turns(Interval turns, Domain* domain) { return tan(mul(two_pi(), turns), domain); }
// a turn's parts are known exactly, and pi is not
Interval asin_turns(Interval a, Domain* domain) {
  return intersect(div(asin(a, domain), two_pi()), Interval::of(-0.25, 0.25));
}
Interval acos_turns(Interval a, Domain* domain) {
  return intersect(div(acos(a, domain), two_pi()), Interval::of(0, 0.5));
}
Interval atan_turns(Interval a) { return intersect(div(atan(a), two_pi()), Interval::of(-0.25, 0.25)); }

Bits less_bits(Interval a, Interval b) {
  if (a.is_empty() || b.is_empty()) return may_undef;
  if (a.hi < b.lo()) return surely_yes;
  if (a.lo() >= b.hi && std::isfinite(b.hi)) return surely_no;
  return undecided;
}

Bits less_equal_bits(Interval a, Interval b) {
  if (a.is_empty() || b.is_empty()) return may_undef;
  if (a.hi <= b.lo() && std::isfinite(a.hi)) return surely_yes;
  if (a.lo() > b.hi) return surely_no;
  return undecided;
}

Bits equal_bits(Interval a, Interval b) {
  if (a.is_empty() || b.is_empty()) return may_undef;
  if (a.hi < b.lo() || b.hi < a.lo()) return surely_no;
  return a.is_point() && b.is_point() ? surely_yes : undecided;
}

ExactInterval number_integer(const ExactInterval*, double lo, double hi) {
  ExactInterval out = ExactInterval::entire();
  if (std::isfinite(lo)) out.lo_value = exact(lo), out.lo_infinite = false;
  if (std::isfinite(hi)) out.hi_value = exact(hi), out.hi_infinite = false;
  return out;
}

ExactInterval middle_of(const ExactInterval& a) {
  if (a.lo_infinite || a.hi_infinite) return ExactInterval::point(exact(midpoint(to_interval(a))));
  return ExactInterval::point((a.lo_value + a.hi_value) / 2);
}

ExactInterval sin_turns(const ExactInterval& turns) {
  if (const auto twelfth = twelfths(turns)) {
    if (const auto twice = twice_sine(*twelfth)) return halves(*twice);
  }
  return sin(mul(two_pi_exact(), reduced(turns)));
}

ExactInterval cos_turns(const ExactInterval& turns) {
  if (const auto twelfth = twelfths(turns)) {
    if (const auto twice = twice_sine((*twelfth + 3) % 12)) return halves(*twice);
  }
  return cos(mul(two_pi_exact(), reduced(turns)));
}

ExactInterval tan_turns(const ExactInterval& turns, Domain* domain) {
  if (turns.is_point()) {
    const Rational eighths = turns.lo_value * 8;
    if (eighths.is_whole()) {
      const Rational quarter = eighths - floor(eighths / 4) * 4;
      if (quarter == 0) return ExactInterval::point(0);
      if (quarter == 1) return ExactInterval::point(1);
      if (quarter == 3) return ExactInterval::point(-1);
      if (domain != nullptr) *domain = Domain::none;
      return ExactInterval::none();
    }
  }
  return tan(mul(two_pi_exact(), reduced(turns)), domain);
}

ExactInterval asin_turns(const ExactInterval& a, Domain* domain) {
  if (const auto twelfth = arcsine_twelfths(a)) return twelfth_point(*twelfth);
  return intersect(div(asin(a, domain), two_pi_exact()), ExactInterval::of({-1, 4}, {1, 4}));
}

ExactInterval acos_turns(const ExactInterval& a, Domain* domain) {
  if (const auto twelfth = arcsine_twelfths(a)) return twelfth_point(3 - *twelfth);
  return intersect(div(acos(a, domain), two_pi_exact()), ExactInterval::of(0, {1, 2}));
}

ExactInterval atan_turns(const ExactInterval& a) {
  if (const Rational size = abs(a.lo_value); a.is_point() && (size == 0 || size == 1))
    return ExactInterval::point(a.lo_value / 8);
  return intersect(div(atan(a), two_pi_exact()), ExactInterval::of({-1, 4}, {1, 4}));
}

Bits less_bits(const ExactInterval& a, const ExactInterval& b) {
  if (a.empty || b.empty) return may_undef;
  if (!a.hi_infinite && !b.lo_infinite && a.hi_value < b.lo_value) return surely_yes;
  if (!a.lo_infinite && !b.hi_infinite && a.lo_value >= b.hi_value) return surely_no;
  return undecided;
}

Bits less_equal_bits(const ExactInterval& a, const ExactInterval& b) {
  return a.empty || b.empty ? may_undef : not_bits(less_bits(b, a));
}

Bits equal_bits(const ExactInterval& a, const ExactInterval& b) {
  if (a.empty || b.empty) return may_undef;
  if (less_bits(a, b) == surely_yes || less_bits(b, a) == surely_yes) return surely_no;
  return a.is_point() && b.is_point() ? surely_yes : undecided;
}

}  // namespace mm

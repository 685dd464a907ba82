// The judge's numbers: an exact fraction, or two fractions that enclose what is not one. Written apart from
// src/interval on purpose; transcendental functions come from MPFR at 200 bits. Angles are in degrees.
#pragma once
#include <gmpxx.h>

#include <cstdint>
#include <vector>

namespace mm_proof {

using Rational = mpq_class;

/// Which of no, yes and undefined are possible.
using Truth = std::uint8_t;
inline constexpr Truth no = 1, yes = 2, undefined = 4, open = 3, whatever = 7;

Truth truth_not(Truth a);
Truth truth_and(Truth a, Truth b);
inline Truth truth_or(Truth a, Truth b) { return truth_not(truth_and(truth_not(a), truth_not(b))); }

struct Real {
  Rational lo, hi;     // hi only where it is no point
  bool point = true;   // exactly lo
  bool known = true;   // false: any number at all
  bool exists = true;  // may be defined
  bool undef = false;  // may be undefined
  bool jumps = false;  // may leave numbers out between two that it takes
  /// Factors by power of the one value of the world that is no point; empty: not known to be such a sum.
  std::vector<Rational> form;

  Real() = default;
  explicit Real(Rational value) : lo(std::move(value)) {}
  static Real between(Rational lo, Rational hi);
  static Real anything();
  static Real nothing();  // surely undefined
  const Rational& high() const { return point ? lo : hi; }
};

Real add(const Real& a, const Real& b);
Real sub(const Real& a, const Real& b);
Real mul(const Real& a, const Real& b);
Real div(const Real& a, const Real& b);
Real pow(const Real& a, const Real& b);
Real min(const Real& a, const Real& b);
Real max(const Real& a, const Real& b);
Real hull(const Real& a, const Real& b);
Real neg(const Real& a);
Real abs(const Real& a);
Real sqrt(const Real& a);
Real sin(const Real& degrees);
Real cos(const Real& degrees);
Real tan(const Real& degrees);
Real asin(const Real& a);
Real acos(const Real& a);
Real atan(const Real& a);
Real exp(const Real& a);
Real ln(const Real& a);
Real floor(const Real& a);
Real ceil(const Real& a);
Real round(const Real& a);  // halves away from zero
Real pi();

Truth less(const Real& a, const Real& b);
Truth less_equal(const Real& a, const Real& b);
Truth equal(const Real& a, const Real& b);

}  // namespace mm_proof

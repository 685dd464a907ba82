// Enclosing irrational values: a rational argument is enclosed by two MPFR numbers, the function is
// evaluated outward at both, and the precision is doubled until the enclosure of the value is relatively
// narrower than 2^-100 (Ziv's strategy). The result is then cut to 256 bits. Private to the exact arithmetic.
#pragma once
#include "interval/extended.hpp"
#include "interval/mpfr_number.hpp"

namespace mm {

inline constexpr mpfr_prec_t ziv_first_bits = 160, ziv_last_bits = 65536;

void assign(MpfrNumber& to, const Extended& from, mpfr_rnd_t rounding);

/// An argument or a value between two numbers of a given precision.
struct Enclosure {
  explicit Enclosure(mpfr_prec_t bits) : lo(bits), hi(bits) {}
  Enclosure(mpfr_prec_t bits, const Extended& value) : Enclosure(bits) {
    assign(lo, value, MPFR_RNDD);
    assign(hi, value, MPFR_RNDU);
  }

  MpfrNumber lo, hi;
};

bool narrow_enough(const Enclosure& value);

/// One outward bound of f; `evaluate(value, bits)` encloses it at a precision.
template <class Evaluate>
Extended bound(Evaluate evaluate, Outward side) {
  for (mpfr_prec_t bits = ziv_first_bits;; bits *= 2) {
    Enclosure value(bits);
    evaluate(value, bits);
    if (narrow_enough(value) || bits >= ziv_last_bits) {
      return limited(side == Outward::up ? value.hi.get() : value.lo.get(), side);
    }
  }
}

using MpfrFunction = int (*)(mpfr_ptr, mpfr_srcptr, mpfr_rnd_t);

/// f at x, for a function that rises.
Extended rising(MpfrFunction f, const Extended& x, Outward side);
/// The part of `a` inside `where`; lowers `domain` for what is cut off.
ExactInterval restricted(const ExactInterval& a, const ExactInterval& where, Domain* domain);
ExactInterval not_negative();

}  // namespace mm

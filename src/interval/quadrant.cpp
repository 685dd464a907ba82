#include "interval/quadrant.hpp"

#include <algorithm>
#include <cmath>

#include "interval/mpfr_number.hpp"

namespace mm {

// A double other than 0 is never a multiple of pi/2 and none comes nearer to one than about 2^-60 of a
// quarter turn, so pi with 160 bits beyond the exponent decides every case.
mpz_class quarter_turns(double x) {
  if (x == 0) return 0;
  const mpfr_prec_t bits = 160 + std::max(0, std::ilogb(x));
  MpfrNumber quarter(bits), turns(bits, x);
  mpfr_const_pi(quarter.get(), MPFR_RNDN);
  mpfr_div_2ui(quarter.get(), quarter.get(), 1, MPFR_RNDN);
  mpfr_div(turns.get(), turns.get(), quarter.get(), MPFR_RNDN);
  mpz_class result;
  mpfr_get_z(result.get_mpz_t(), turns.get(), MPFR_RNDD);
  return result;
}

bool passes(const mpz_class& first, const mpz_class& last, unsigned residue, unsigned modulus) {
  const mpz_class to_residue = last - residue;
  mpz_class distance;
  mpz_fdiv_r_ui(distance.get_mpz_t(), to_residue.get_mpz_t(), modulus);
  return last - distance > first;
}

}  // namespace mm

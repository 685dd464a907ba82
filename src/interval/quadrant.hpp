// In which quarter turn does an angle in radians lie: exact for every double.
#pragma once
#include <gmpxx.h>

namespace mm {

/// floor(x / (pi / 2)) for finite x.
mpz_class quarter_turns(double x);
/// True when some j with j = residue (mod modulus) has first < j <= last.
bool passes(const mpz_class& first, const mpz_class& last, unsigned residue, unsigned modulus);

}  // namespace mm

// An MPFR number with a lifetime, and functions of doubles rounded correctly in one direction.
#pragma once
#include <mpfr.h>

#include <utility>

namespace mm {

/// Owns one mpfr_t. MPFR computes with integers and never looks at the rounding mode of the machine.
class MpfrNumber {
 public:
  explicit MpfrNumber(mpfr_prec_t bits) { mpfr_init2(value_, bits); }
  MpfrNumber(mpfr_prec_t bits, double start) : MpfrNumber(bits) { mpfr_set_d(value_, start, MPFR_RNDN); }
  ~MpfrNumber() { mpfr_clear(value_); }
  MpfrNumber(const MpfrNumber&) = delete;
  MpfrNumber& operator=(const MpfrNumber&) = delete;
  mpfr_ptr get() { return value_; }
  mpfr_srcptr get() const { return value_; }
  double to_double(mpfr_rnd_t rounding) const { return mpfr_get_d(value_, rounding); }

 private:
  mpfr_t value_;
};

/// What MPFR keeps for a thread is dropped with this: for one whose work may be its last.
struct ThreadsConstants {
  ThreadsConstants() = default;
  ~ThreadsConstants() { mpfr_free_cache(); }
  ThreadsConstants(const ThreadsConstants&) = delete;
  ThreadsConstants& operator=(const ThreadsConstants&) = delete;
};

/// 53-bit numbers that a thread keeps for one-shot use.
MpfrNumber& scratch(int which);

/// f(x) rounded once. Rounding first to 53 bits and then to a subnormal in the same direction is
/// the same as rounding once.
template <class Function>
double rounded(Function f, double x, mpfr_rnd_t rounding) {
  mpfr_ptr value = scratch(0).get();
  mpfr_set_d(value, x, MPFR_RNDN);
  f(value, value, rounding);
  return mpfr_get_d(value, rounding);
}

}  // namespace mm

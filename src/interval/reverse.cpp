// Reverse operations whose solutions form one or two pieces that hardware or one root can bound.
#include "interval/reverse.hpp"

#include <algorithm>
#include <cmath>

#include "base/rational.hpp"
#include "interval/mpfr_number.hpp"

namespace mm {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

Interval meet(std::pair<Interval, Interval> pieces, Interval x) {
  return hull(intersect(pieces.first, x), intersect(pieces.second, x));
}

Interval non_negative(Interval a) { return intersect(a, Interval::of(0, infinity)); }

bool holds_zero(Interval a) { return a.neg_lo >= 0 && a.hi >= 0; }

/// { t >= 0 : t^n in c } for c >= 0.
Interval root_piece(Interval c, int n) {
  if (c.is_empty() || (n < 0 && c.hi == 0)) return Interval::empty();
  const auto root = [n](mpfr_ptr to, mpfr_srcptr from, mpfr_rnd_t rounding) {
    return mpfr_rootn_si(to, from, n, rounding);
  };
  const double lo = c.neg_lo < 0 ? -c.neg_lo : 0.0;  // never -0, whose inverse would be -inf
  if (n > 0) return Interval::of(rounded(root, lo, MPFR_RNDD), rounded(root, c.hi, MPFR_RNDU));
  return Interval::of(rounded(root, c.hi, MPFR_RNDD), rounded(root, lo, MPFR_RNDU));
}

/// Whether a is narrower than b, both bounded; exactly.
bool narrower(Interval a, Interval b) {
  const double a_up = a.hi + a.neg_lo, b_up = b.hi + b.neg_lo;
  const double a_down = -(-a.hi - a.neg_lo), b_down = -(-b.hi - b.neg_lo);
  if (a_up < b_down) return true;
  if (a_down >= b_up) return false;
  return exact(a.hi) + exact(a.neg_lo) < exact(b.hi) + exact(b.neg_lo);
}

}  // namespace

Interval sqr_rev(Interval c, Interval x) {
  const Interval root = sqrt(non_negative(c));
  return meet({neg(root), root}, x);
}

Interval abs_rev(Interval c, Interval x) {
  const Interval size = non_negative(c);
  return meet({neg(size), size}, x);
}

Interval pown_rev(Interval c, Interval x, int n) {
  if (c.is_empty() || x.is_empty()) return Interval::empty();
  if (n == 0) return c.contains(1) ? x : Interval::empty();
  const Interval above = root_piece(non_negative(c), n);
  const Interval below = n % 2 == 0 ? above : root_piece(non_negative(neg(c)), n);
  return meet({neg(below), above}, x);
}

std::pair<Interval, Interval> mul_rev_pair(Interval b, Interval c) {
  const Interval none = Interval::empty();
  if (b.is_empty() || c.is_empty()) return {none, none};
  if (!holds_zero(b)) return {div(c, b), none};
  if (holds_zero(c)) return {Interval::entire(), none};
  const Interval b_below{b.neg_lo, 0.0}, b_above{0.0, b.hi};
  const Interval left = c.hi < 0 ? div(c, b_above) : div(c, b_below);
  const Interval right = c.hi < 0 ? div(c, b_below) : div(c, b_above);
  return left.is_empty() ? std::pair{right, none} : std::pair{left, right};
}

Interval mul_rev(Interval b, Interval c, Interval x) { return meet(mul_rev_pair(b, c), x); }

Interval cancel_minus(Interval a, Interval b) {
  const auto unbounded = [](Interval i) { return i.neg_lo == infinity || i.hi == infinity; };
  if (a.is_empty()) return b.is_empty() || !unbounded(b) ? Interval::empty() : Interval::entire();
  if (b.is_empty() || unbounded(a) || unbounded(b) || narrower(a, b)) return Interval::entire();
  return {a.neg_lo - b.neg_lo, a.hi - b.hi};
}

Interval cancel_plus(Interval a, Interval b) { return cancel_minus(a, neg(b)); }

}  // namespace mm

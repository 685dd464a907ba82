// Roots and powers of exact intervals: exact where the value is rational and small, else enclosed.
#include <algorithm>
#include <cstdlib>

#include "interval/domain.hpp"
#include "interval/ziv.hpp"

namespace mm {
namespace {

/// 8^(2/3) is 4: where a root of the exponent's denominator is a fraction.
std::optional<Rational> exact_power(const Extended& x, const Extended& y) {
  constexpr std::int64_t most_degree = 64;
  constexpr std::size_t most_bits = 4096;
  if (x.infinite != 0 || y.infinite != 0 || x.value.sign() <= 0) return std::nullopt;
  const Ratio* exponent = y.value.small();
  if (exponent == nullptr || exponent->bottom > most_degree || std::abs(exponent->top) > most_degree)
    return std::nullopt;
  const auto root = exact_root(x.value, static_cast<unsigned long>(exponent->bottom));
  if (!root || bits(*root) * static_cast<std::size_t>(std::abs(exponent->top)) > most_bits)
    return std::nullopt;
  return mm::whole_power(*root, exponent->top);
}

/// x^y for x >= 0 at one corner of a box.
Extended power_of(const Extended& x, const Extended& y, Outward side) {
  if (auto exactly = exact_power(x, y)) return {*std::move(exactly), 0};
  return bound(
      [&](Enclosure& value, mpfr_prec_t bits) {
        const Enclosure base(bits, x), exponent(bits, y);
        MpfrNumber down(bits), up(bits);
        mpfr_set_inf(value.lo.get(), 1);
        mpfr_set_inf(value.hi.get(), -1);
        for (const auto* b : {&base.lo, &base.hi}) {
          for (const auto* e : {&exponent.lo, &exponent.hi}) {
            mpfr_pow(down.get(), b->get(), e->get(), MPFR_RNDD);
            mpfr_pow(up.get(), b->get(), e->get(), MPFR_RNDU);
            mpfr_min(value.lo.get(), value.lo.get(), down.get(), MPFR_RNDD);
            mpfr_max(value.hi.get(), value.hi.get(), up.get(), MPFR_RNDU);
          }
        }
      },
      side);
}

/// x^n, exact while it stays small.
Extended whole_power(const Extended& x, unsigned long n, Outward side) {
  if (x.infinite != 0) return Extended::infinity(x.infinite < 0 && n % 2 != 0 ? -1 : 1);
  if (const std::size_t length = bits(x.value); length == 1 || n <= 16384 / length)
    return limited({mm::whole_power(x.value, static_cast<long>(n)), 0}, side);
  const bool negative = x.value.sign() < 0 && n % 2 != 0;
  const Outward size_side = negative == (side == Outward::up) ? Outward::down : Outward::up;
  Extended size = power_of({abs(x.value), 0}, {n, 0}, size_side);
  return negative ? Extended{-size.value, -size.infinite} : size;
}

Extended square_root(const Extended& x, Outward side) {
  if (x.infinite == 0)
    if (auto root = exact_root(x.value)) return {*std::move(root), 0};
  return rising(mpfr_sqrt, x, side);
}

}  // namespace

ExactInterval sqrt(const ExactInterval& a, Domain* domain) {
  const ExactInterval inside = restricted(a, not_negative(), domain);
  if (inside.empty) return inside;
  return interval_of(square_root(lo_bound(inside), Outward::down),
                     square_root(hi_bound(inside), Outward::up));
}

ExactInterval pown(const ExactInterval& a, int n, Domain* domain) {
  if (a.empty || n == 1) return a;
  if (n == 0) return ExactInterval::point(1);
  const auto size = static_cast<unsigned long>(std::labs(static_cast<long>(n)));
  const ExactInterval base = size % 2 == 0 ? abs(a) : a;
  const ExactInterval power = interval_of(whole_power(lo_bound(base), size, Outward::down),
                                          whole_power(hi_bound(base), size, Outward::up));
  return n > 0 ? power : div(ExactInterval::point(1), power, domain);
}

ExactInterval pow(const ExactInterval& a, const ExactInterval& b, Domain* domain) {
  if (a.empty || b.empty) return ExactInterval::none();
  const ExactInterval base = restricted(a, not_negative(), domain);
  if (base.empty) return base;
  const Extended lo = lo_bound(base), hi = hi_bound(base), from = lo_bound(b), to = hi_bound(b);
  if (lo.sign() == 0 && from.sign() <= 0) lower(domain, Domain::part);
  if (hi.sign() == 0) {
    if (to.sign() > 0) return base;
    lower(domain, Domain::none);
    return ExactInterval::none();
  }
  if (const auto whole = b.is_point() ? whole_word(b.lo_value) : std::nullopt;
      whole && std::in_range<int>(*whole))
    return pown(base, static_cast<int>(*whole));
  if (b.is_point() && b.lo_value == Rational(1, 2)) return sqrt(base);
  const Extended one{1, 0};
  const bool lo_above = !(lo < one), hi_above = !(hi < one);
  const auto down = [](const Extended& x, const Extended& y) { return power_of(x, y, Outward::down); };
  const auto up = [](const Extended& x, const Extended& y) { return power_of(x, y, Outward::up); };
  if (from.sign() >= 0) return interval_of(down(lo, lo_above ? from : to), up(hi, hi_above ? to : from));
  if (to.sign() <= 0) return interval_of(down(hi, hi_above ? from : to), up(lo, lo_above ? to : from));
  return interval_of(std::min(down(lo, to), down(hi, from)), std::max(up(lo, from), up(hi, to)));
}

}  // namespace mm

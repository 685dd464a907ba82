// Packs of rows against one interval at a time, over ends where signs, zeros and infinities meet.
#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <vector>

#include "interval/interval_pack.hpp"

using mm::Interval;
using mm::IntervalPack;

namespace {

std::vector<Interval> nasty_intervals() {
  constexpr double infinity = std::numeric_limits<double>::infinity();
  constexpr double largest = std::numeric_limits<double>::max();
  constexpr double least = std::numeric_limits<double>::denorm_min();
  const double ends[] = {-infinity, -largest,  -3.7, -1, -least, -0.0,    0.0,
                         least,     0x1p-1022, 0.1,  1,  4.5,    largest, infinity};
  std::vector<Interval> out{Interval::empty()};
  for (const double lo : ends) {
    for (const double hi : ends) {
      if (lo <= hi && lo < infinity && hi > -infinity) out.push_back(Interval::of(lo, hi));
    }
  }
  return out;
}

bool is_plain(const Interval& a) { return a.lo() >= 0 && std::isfinite(a.hi); }

/// The first row of a pack, where it is not in doubt, must be what one interval gives.
template <class Packed>
bool agrees(const Packed& found, const Interval& expected, std::size_t& told) {
  if (mm::any_doubt(found.doubts())) return true;
  ++told;
  return Interval{found.neg_lo[0], found.hi[0]} == expected;
}

}  // namespace

TEST_CASE("rows of a pack have the bounds that one interval has") {
  const mm::RoundUp upward;
  const std::vector<Interval> all = nasty_intervals();
  std::size_t plain = 0, products = 0, sums = 0, quotients = 0;
  for (const Interval& a : all) {
    const IntervalPack x = IntervalPack::load(std::vector<double>(IntervalPack::rows, a.neg_lo).data(),
                                              std::vector<double>(IntervalPack::rows, a.hi).data());
    const bool no_detour = is_plain(a) && std::signbit(a.neg_lo) && !std::signbit(a.hi);
    if (no_detour) CHECK_FALSE(mm::any_doubt(x.doubts()));
    plain += mm::any_doubt(x.doubts()) ? 0 : 1;
    for (const Interval& b : all) {
      CAPTURE(a.lo());
      CAPTURE(a.hi);
      CAPTURE(b.lo());
      CAPTURE(b.hi);
      const IntervalPack y = IntervalPack::load(std::vector<double>(IntervalPack::rows, b.neg_lo).data(),
                                                std::vector<double>(IntervalPack::rows, b.hi).data());
      CHECK(agrees(mul(x, y), mm::mul(a, b), products));
      CHECK(agrees(add(x, y), mm::add(a, b), sums));
      mm::Domain domain = mm::Domain::whole;
      const Interval quotient = mm::div(a, b, &domain);
      CHECK(agrees(div(x, y), quotient, quotients));
      if (domain != mm::Domain::whole) CHECK(mm::any_doubt(div(x, y).doubts()));
    }
    for (const double number : {0.1, 1.0, 2.0, 3.0, 0x1p-1022, 0x1p1000}) {
      CHECK(agrees(mul(x, number), mm::mul(a, Interval::point(number)), products));
      CHECK(agrees(div(x, number), mm::div(a, Interval::point(number)), quotients));
    }
  }
  CHECK(plain > 20);
  CHECK(products > 400);
  CHECK(sums > 400);
  CHECK(quotients > 200);
}

TEST_CASE("one row that is not plain puts a pack in doubt") {
  const mm::RoundUp upward;
  const double neg_lo[] = {-1, -2, -3, -4}, hi[] = {2, 3, 4, 5};
  CHECK(mm::all_plain(neg_lo, hi, 4));
  double other[] = {-1, -2, -3, -4};
  for (double& bound : other) {
    const double kept = bound;
    bound = 0.5;
    CHECK_FALSE(mm::all_plain(other, hi, 4));
    bound = kept;
  }
  CHECK(mm::any_doubt(
      mul(IntervalPack::all(Interval::of(-1, 2)), IntervalPack::all(Interval::of(1, 2))).doubts()));
}

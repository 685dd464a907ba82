#include <doctest/doctest.h>

#include <cfenv>
#include <cmath>
#include <limits>
#include <random>

#include "interval/interval.hpp"
#include "interval/reverse.hpp"

using mm::Domain;
using mm::Interval;

namespace {
constexpr double infinity = std::numeric_limits<double>::infinity();
}

TEST_CASE("RoundUp nests and restores the rounding mode") {
  REQUIRE(std::fegetround() == FE_TONEAREST);
  {
    const mm::RoundUp outer;
    CHECK(std::fegetround() == FE_UPWARD);
    {
      const mm::RoundUp inner;
      CHECK(std::fegetround() == FE_UPWARD);
    }
    CHECK(std::fegetround() == FE_UPWARD);
    CHECK(mm::midpoint(Interval::of(1, 2)) == 1.5);
    CHECK(std::fegetround() == FE_UPWARD);
    static_cast<void>(mm::sin(Interval::of(1, 2)));
    static_cast<void>(mm::pow_rev1(Interval::of(1, 2), Interval::of(3, 4), Interval::entire()));
    CHECK(std::fegetround() == FE_UPWARD);
  }
  CHECK(std::fegetround() == FE_TONEAREST);
}

TEST_CASE("bounds are rounded outward by no more than needed") {
  const mm::RoundUp upward;
  const Interval tenth = mm::div(Interval::point(1), Interval::point(10));
  CHECK(tenth.lo() == 0x1.9999999999999p-4);
  CHECK(tenth.hi == 0x1.999999999999ap-4);
  const Interval sum = mm::add(Interval::point(1), Interval::point(0x1p-60));
  CHECK(sum == Interval::of(1, 0x1.0000000000001p+0));
  CHECK(mm::sub(Interval::point(5), Interval::point(3)) == Interval::point(2));
  CHECK(mm::mul(Interval::of(-2, 3), Interval::of(-5, 7)) == Interval::of(-15, 21));
  CHECK(mm::sqrt(Interval::point(2.25)) == Interval::point(1.5));
  CHECK(mm::sqrt(Interval::point(2)) == Interval::of(0x1.6a09e667f3bccp+0, 0x1.6a09e667f3bcdp+0));
  CHECK(mm::pi_interval().contains(3.141592653589793));
}

TEST_CASE("empty stays empty through every operation") {
  const mm::RoundUp upward;
  const Interval none = Interval::empty(), some = Interval::of(1, 2);
  using Operation = Interval (*)(Interval, Interval);
  const Operation operations[] = {[](Interval a, Interval b) { return mm::add(a, b); },
                                  [](Interval a, Interval b) { return mm::sub(a, b); },
                                  [](Interval a, Interval b) { return mm::mul(a, b); },
                                  mm::min,
                                  mm::max,
                                  mm::intersect};
  for (const Interval other :
       {none, some, Interval::entire(), Interval::of(0, infinity), Interval::of(-3, 0)}) {
    for (const Operation op : operations) {
      CHECK(op(none, other).is_empty());
      CHECK(op(other, none).is_empty());
      CHECK(mm::mul(mm::add(op(none, other), some), some).is_empty());
      CHECK(mm::intersect(mm::mul(some, op(none, other)), Interval::entire()).is_empty());
      CHECK(mm::neg(op(none, other)).is_empty());
      CHECK(mm::hull(op(none, other), some) == some);
    }
    CHECK(mm::div(none, other).is_empty());
    CHECK(mm::pow(other, none).is_empty());
  }
  CHECK(mm::intersect(some, Interval::of(3, 4)).is_empty());
  CHECK(mm::add(mm::intersect(some, Interval::of(3, 4)), Interval::of(-9, 9)).is_empty());
  CHECK(mm::sin(none).is_empty());
  CHECK(mm::sqr(none).is_empty());
  CHECK(mm::floor(none).is_empty());
}

TEST_CASE("products with zero and infinity") {
  const mm::RoundUp upward;
  const Interval zero = Interval::point(0);
  CHECK(mm::mul(zero, Interval::entire()) == zero);
  CHECK(mm::mul(Interval::of(0, 1), Interval::of(1, infinity)) == Interval::of(0, infinity));
  CHECK(mm::mul(zero, Interval::of(1, infinity)) == zero);
  CHECK(mm::mul(Interval::point(1e300), Interval::point(1e300)) ==
        Interval::of(std::numeric_limits<double>::max(), infinity));
}

TEST_CASE("domain is lowered, never raised") {
  const mm::RoundUp upward;
  Domain domain = Domain::whole;
  CHECK_FALSE(mm::div(Interval::of(1, 2), Interval::of(1, 2), &domain).is_empty());
  CHECK(domain == Domain::whole);
  CHECK(mm::div(Interval::of(1, 2), Interval::of(-1, 2), &domain) == Interval::entire());
  CHECK(domain == Domain::part);
  CHECK(mm::sqrt(Interval::of(4, 9), &domain) == Interval::of(2, 3));
  CHECK(domain == Domain::part);
  CHECK(mm::sqrt(Interval::of(-9, -4), &domain).is_empty());
  CHECK(domain == Domain::none);

  const auto domain_of = [](auto op) {
    Domain result = Domain::whole;
    op(&result);
    return result;
  };
  CHECK(domain_of([](Domain* d) { return mm::log(Interval::of(0, 1), d); }) == Domain::part);
  CHECK(domain_of([](Domain* d) { return mm::log(Interval::of(-2, 0), d); }) == Domain::none);
  CHECK(domain_of([](Domain* d) { return mm::log(Interval::of(0.5, 1), d); }) == Domain::whole);
  CHECK(domain_of([](Domain* d) { return mm::tan(Interval::of(1, 2), d); }) == Domain::part);
  CHECK(domain_of([](Domain* d) { return mm::tan(Interval::of(-1, 1), d); }) == Domain::whole);
  CHECK(domain_of([](Domain* d) { return mm::asin(Interval::of(0, 2), d); }) == Domain::part);
  CHECK(domain_of([](Domain* d) { return mm::acos(Interval::of(2, 3), d); }) == Domain::none);
  CHECK(domain_of([](Domain* d) { return mm::pown(Interval::of(-1, 1), -1, d); }) == Domain::part);
  CHECK(domain_of([](Domain* d) { return mm::pown(Interval::point(0), -2, d); }) == Domain::none);
  CHECK(domain_of([](Domain* d) { return mm::pow(Interval::of(0, 1), Interval::of(1, 2), d); }) ==
        Domain::whole);
  CHECK(domain_of([](Domain* d) { return mm::pow(Interval::of(0, 1), Interval::of(0, 2), d); }) ==
        Domain::part);
  CHECK(domain_of([](Domain* d) { return mm::pow(Interval::of(-2, -1), Interval::of(1, 2), d); }) ==
        Domain::none);
  CHECK(domain_of([](Domain* d) { return mm::sqrt(Interval::empty(), d); }) == Domain::whole);
}

TEST_CASE("midpoint lies inside") {
  CHECK(mm::midpoint(Interval::entire()) == 0);
  CHECK(std::isfinite(mm::midpoint(Interval::of(3, infinity))));
  CHECK(mm::midpoint(Interval::of(1e308, 1.5e308)) == 1.25e308);
}

TEST_CASE("reverse operations keep every solution") {
  const mm::RoundUp upward;
  std::mt19937_64 random(3);
  std::uniform_real_distribution<double> number(-9, 9);
  const auto around = [&](double x) { return Interval::of(x - 0.25 * std::fabs(number(random)), x + 0.5); };
  for (int i = 0; i < 3000; ++i) {
    const double t = number(random), y = number(random);
    const Interval x = around(t), b = around(y), at = Interval::point(t);
    CHECK(mm::sqr_rev(mm::sqr(at), x).contains(t));
    CHECK(mm::abs_rev(mm::abs(at), x).contains(t));
    CHECK(mm::sin_rev(mm::sin(at), x).contains(t));
    CHECK(mm::cos_rev(mm::cos(at), x).contains(t));
    CHECK(mm::tan_rev(mm::tan(at), x).contains(t));
    CHECK(mm::pown_rev(mm::pown(at, 3), x, 3).contains(t));
    CHECK(mm::pown_rev(mm::pown(at, -2), x, -2).contains(t));
    CHECK(mm::mul_rev(b, mm::mul(at, Interval::point(y)), x).contains(t));
    const Interval size = Interval::point(std::fabs(t));
    CHECK(mm::pow_rev1(b, mm::pow(size, Interval::point(y)), mm::abs(x)).contains(std::fabs(t)));
    CHECK(mm::pow_rev2(size, mm::pow(size, Interval::point(y)), b).contains(y));
  }
}

TEST_CASE("reverse operations narrow") {
  const mm::RoundUp upward;
  CHECK(mm::sqr_rev(Interval::of(4, 9), Interval::of(0, 100)) == Interval::of(2, 3));
  CHECK(mm::pown_rev(Interval::of(8, 27), Interval::entire(), 3) == Interval::of(2, 3));
  CHECK(mm::mul_rev(Interval::of(2, 4), Interval::of(8, 8), Interval::entire()) == Interval::of(2, 4));
  CHECK(mm::pow_rev1(Interval::point(3), Interval::of(8, 27), Interval::entire()) == Interval::of(2, 3));
  CHECK(mm::pow_rev2(Interval::point(2), Interval::of(8, 32), Interval::entire()) == Interval::of(3, 5));
  CHECK(mm::sin_rev(Interval::of(2, 3), Interval::entire()).is_empty());
  CHECK(mm::cos_rev(Interval::of(0.9, 1), Interval::of(1, 5)).is_empty());
  const auto [left, right] = mm::mul_rev_pair(Interval::of(-1, 2), Interval::of(4, 8));
  CHECK(left == Interval::of(-infinity, -4));
  CHECK(right == Interval::of(2, infinity));
  CHECK(mm::cancel_minus(Interval::of(3, 7), Interval::of(1, 2)) == Interval::of(2, 5));
  CHECK(mm::cancel_minus(Interval::of(1, 2), Interval::of(3, 7)) == Interval::entire());
  CHECK(mm::cancel_plus(Interval::of(3, 7), Interval::of(-2, -1)) == Interval::of(2, 5));
}

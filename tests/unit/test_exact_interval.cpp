#include <doctest/doctest.h>

#include <cmath>
#include <random>
#include <vector>

#include "interval/exact_interval.hpp"

using mm::Domain;
using mm::ExactInterval;
using mm::Interval;
using mm::Rational;

namespace {

Rational q(std::string_view text) {
  return text[0] == '-' ? Rational(-*mm::read_number(text.substr(1))) : *mm::read_number(text);
}

bool same(const ExactInterval& a, const ExactInterval& b) {
  if (a.empty || b.empty) return a.empty && b.empty;
  return a.lo_infinite == b.lo_infinite && a.hi_infinite == b.hi_infinite &&
         (a.lo_infinite || a.lo_value == b.lo_value) && (a.hi_infinite || a.hi_value == b.hi_value);
}

bool encloses(Interval outer, const ExactInterval& inner) {
  return same(mm::intersect(ExactInterval::from(outer), inner), inner);
}

/// 2^-100 of the value at most.
bool is_narrow(const ExactInterval& a) {
  return a.hi_value - a.lo_value <= mm::times_power_of_two(abs(a.hi_value), -100);
}

class Random {
 public:
  int below(int n) { return static_cast<int>(engine_() % static_cast<unsigned>(n)); }
  double number() {
    static constexpr double favourites[] = {0, 1, -1, 0.5, 2, -2, 114.3, 1e-3, 3, -0.75};
    if (below(3) == 0) return favourites[below(10)];
    const double size = std::ldexp(static_cast<double>(engine_() >> 11), below(40) - 73);
    return below(2) ? size : -size;
  }
  Interval interval() {
    const double a = number(), b = below(3) == 0 ? a : number();
    return Interval::of(std::min(a, b), std::max(a, b));
  }

 private:
  std::mt19937_64 engine_{20240817};
};

struct Operation {
  const char* name;
  Interval (*rounded)(Interval, Interval);
  ExactInterval (*exact)(const ExactInterval&, const ExactInterval&);
};

#define UNARY(op)                                                                                       \
  {                                                                                                     \
#op, [](Interval a, Interval) { return mm::op(a); }, [](const ExactInterval& a,                     \
                                                            const ExactInterval&) { return mm::op(a); } \
  }
#define BINARY(op)                                                                                    \
  {                                                                                                   \
#op, [](Interval a,                                                                               \
            Interval b) { return mm::op(a, b); }, [](const ExactInterval& a,                          \
                                                     const ExactInterval& b) { return mm::op(a, b); } \
  }
#define WHOLE_POWER(n)                                                              \
  {                                                                                 \
    "pown " #n, [](Interval a, Interval) { return mm::pown(a, n); },                \
        [](const ExactInterval& a, const ExactInterval&) { return mm::pown(a, n); } \
  }

const std::vector<Operation>& operations() {
  static const std::vector<Operation> list = {BINARY(add),
                                              BINARY(sub),
                                              BINARY(mul),
                                              BINARY(div),
                                              BINARY(min),
                                              BINARY(max),
                                              BINARY(pow),
                                              BINARY(hull),
                                              BINARY(intersect),
                                              UNARY(neg),
                                              UNARY(abs),
                                              UNARY(sqrt),
                                              UNARY(exp),
                                              UNARY(log),
                                              UNARY(sin),
                                              UNARY(cos),
                                              UNARY(tan),
                                              UNARY(asin),
                                              UNARY(acos),
                                              UNARY(atan),
                                              UNARY(floor),
                                              UNARY(ceil),
                                              UNARY(round_half_away),
                                              WHOLE_POWER(2),
                                              WHOLE_POWER(3),
                                              WHOLE_POWER(-1),
                                              WHOLE_POWER(-2),
                                              WHOLE_POWER(0)};
  return list;
}
#undef UNARY
#undef BINARY
#undef WHOLE_POWER

struct Value {
  Interval rounded;
  ExactInterval exact;
};

Value random_expression(Random& random, int depth) {
  if (depth == 0) {
    const Interval leaf = random.interval();
    return {leaf, ExactInterval::from(leaf)};
  }
  const Value a = random_expression(random, depth - 1), b = random_expression(random, random.below(depth));
  const Operation& op =
      operations()[static_cast<std::size_t>(random.below(static_cast<int>(operations().size())))];
  return {op.rounded(a.rounded, b.rounded), op.exact(a.exact, b.exact)};
}

}  // namespace

TEST_CASE("four and a half inches are 114.3 mm") {
  const auto circle = mm::mul(ExactInterval::point(q("4.5")), ExactInterval::point(q("0.0254")));
  CHECK(circle.is_point());
  CHECK(mm::sub(circle, ExactInterval::point(q("0.1143"))).lo_value == 0);
}

TEST_CASE("rational results are exact") {
  const auto third = mm::div(ExactInterval::point(1), ExactInterval::point(3));
  CHECK(same(mm::mul(third, ExactInterval::point(3)), ExactInterval::point(1)));
  CHECK(same(mm::sqrt(ExactInterval::point(q("2.25"))), ExactInterval::point(q("1.5"))));
  CHECK(same(mm::pown(ExactInterval::of(-2, 3), 2), ExactInterval::of(0, 9)));
  CHECK(same(mm::pown(ExactInterval::of(-2, 3), 3), ExactInterval::of(-8, 27)));
  CHECK(same(mm::pown(ExactInterval::of(2, 4), -1), ExactInterval::of(q("1/4"), q("1/2"))));
  CHECK(same(mm::pow(ExactInterval::of(4, 9), ExactInterval::point(q("1/2"))), ExactInterval::of(2, 3)));
  CHECK(same(mm::pow(ExactInterval::of(8, 27), ExactInterval::point(q("2/3"))), ExactInterval::of(4, 9)));
  CHECK(same(mm::pow(ExactInterval::of(8, 27), ExactInterval::point(q("-1/3"))),
             ExactInterval::of(q("1/3"), q("1/2"))));
  CHECK(same(mm::pow(ExactInterval::point(q("0.1")), ExactInterval::point(3)),
             ExactInterval::point(q("0.001"))));
  CHECK(same(mm::abs(ExactInterval::of(-3, 2)), ExactInterval::of(0, 3)));
  CHECK(same(mm::floor(ExactInterval::of(q("-1.5"), q("1.5"))), ExactInterval::of(-2, 1)));
  CHECK(same(mm::round_half_away(ExactInterval::of(q("-1.5"), q("2.5"))), ExactInterval::of(-2, 3)));
  CHECK(same(mm::exp(ExactInterval::point(0)), ExactInterval::point(1)));
  CHECK(same(mm::log(ExactInterval::point(1)), ExactInterval::point(0)));
  CHECK(same(mm::cos(ExactInterval::point(0)), ExactInterval::point(1)));
}

TEST_CASE("irrational results are enclosed narrowly") {
  const auto two = ExactInterval::point(2);
  const auto tiny_over_one = ExactInterval::point(1 + mm::times_power_of_two(1, -500));
  for (const auto& value :
       {mm::sqrt(two), mm::exp(two), mm::log(two), mm::sin(two), mm::cos(two), mm::tan(two), mm::atan(two),
        mm::pi_exact(), mm::log(tiny_over_one), mm::pow(two, ExactInterval::point(q("1/3"))),
        mm::asin(ExactInterval::point(q("1/3"))), mm::acos(ExactInterval::point(q("1/3"))),
        mm::sin(ExactInterval::point(mm::exact(1e300))), mm::sin(ExactInterval::from(mm::pi_interval()))}) {
    CHECK(value.lo_value < value.hi_value);
  }
  for (const auto& value : {mm::sqrt(two), mm::exp(two), mm::log(two), mm::sin(two), mm::pi_exact(),
                            mm::log(tiny_over_one), mm::sin(ExactInterval::point(mm::exact(1e300)))}) {
    CHECK(is_narrow(value));
  }
  const auto root = mm::sqrt(two);
  CHECK(root.lo_value * root.lo_value < 2);
  CHECK(root.hi_value * root.hi_value > 2);
}

TEST_CASE("domains") {
  Domain domain = Domain::whole;
  CHECK(mm::sqrt(ExactInterval::of(1, 2), &domain).lo_value == 1);
  CHECK(domain == Domain::whole);
  CHECK(same(mm::sqrt(ExactInterval::of(-1, 4), &domain), ExactInterval::of(0, 2)));
  CHECK(domain == Domain::part);
  CHECK(mm::log(ExactInterval::of(-1, 0), &domain).empty);
  CHECK(domain == Domain::none);
  domain = Domain::whole;
  CHECK(mm::div(ExactInterval::of(1, 2), ExactInterval::of(0, 4), &domain).lo_value == q("1/4"));
  CHECK(domain == Domain::part);
  CHECK(mm::div(ExactInterval::of(1, 2), ExactInterval::point(0), &domain).empty);
  CHECK(domain == Domain::none);
}

TEST_CASE("large numbers stay affordable and outside") {
  ExactInterval a = ExactInterval::point(Rational(10, 7));
  for (int i = 0; i < 40; ++i) a = mm::mul(a, a);
  CHECK(a.hi_infinite);
  CHECK_FALSE(a.lo_infinite);
  CHECK(mm::round_down(a.lo_value) == std::numeric_limits<double>::max());
  const auto large = mm::pown(ExactInterval::point(3), 100000);
  CHECK(large.hi_infinite);
  const auto none_so_small = mm::exp(ExactInterval::point(-1000000));
  CHECK(none_so_small.lo_value == 0);
  CHECK(none_so_small.hi_value > 0);
  CHECK(mm::exp(mm::exp(mm::exp(ExactInterval::point(10)))).hi_infinite);
  const auto digits = mm::pown(ExactInterval::point(Rational(4, 3)), 3000);
  CHECK_FALSE(digits.is_point());
  CHECK(digits.lo_value < digits.hi_value);
  CHECK(is_narrow(digits));
}

TEST_CASE("one operation: double bounds are the rounded exact ones") {
  Random random;
  const mm::RoundUp upward;
  for (int i = 0; i < 20000; ++i) {
    const Interval a = random.interval(), b = random.interval();
    const Operation& op = operations()[static_cast<std::size_t>(i) % operations().size()];
    const Interval rounded = op.rounded(a, b);
    const Interval tightest = mm::to_interval(op.exact(ExactInterval::from(a), ExactInterval::from(b)));
    INFO(op.name, " of [", a.lo(), ", ", a.hi, "] and [", b.lo(), ", ", b.hi, "]");
    REQUIRE(rounded == tightest);
  }
}

TEST_CASE("random expressions: the double interval encloses the exact one") {
  Random random;
  const mm::RoundUp upward;
  int filled = 0;
  for (int i = 0; i < 5000; ++i) {
    const Value value = random_expression(random, 1 + random.below(4));
    CAPTURE(i);
    REQUIRE(encloses(value.rounded, value.exact));
    if (!value.exact.empty) ++filled;
  }
  CHECK(filled > 2500);
}

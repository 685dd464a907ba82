// Numbers of a column come out as they went in, whichever form they are kept in.
#include <doctest/doctest.h>

#include <bit>
#include <limits>

#include "evaluate/column_numbers.hpp"

using namespace mm;
using Form = ColumnNumbers::Form;

namespace {

/// The i-th of `distinct` numbers; those of an odd place, if any, are ranges.
Interval number(std::size_t i, std::size_t distinct, bool ranges) {
  const double x = static_cast<double>(i % distinct + 1) / 7;
  return ranges && i % 2 == 1 ? Interval::of(x, x + 1) : Interval::point(x);
}

ColumnNumbers filled(std::size_t count, std::size_t distinct, bool ranges) {
  ColumnNumbers numbers;
  for (std::size_t i = 0; i < count; ++i) numbers.add(number(i, distinct, ranges));
  numbers.finish();
  REQUIRE(numbers.size() == count);
  const auto bits = [](double x) { return std::bit_cast<std::uint64_t>(x); };
  for (std::size_t i = 0; i < count; ++i) {
    const Interval given = number(i, distinct, ranges), kept = numbers[i];
    CHECK(bits(kept.neg_lo) == bits(given.neg_lo));
    CHECK(bits(kept.hi) == bits(given.hi));
  }
  return numbers;
}

}  // namespace

TEST_CASE("few numbers said often are kept once each") {
  const ColumnNumbers numbers = filled(2000, 256, true);
  REQUIRE(numbers.form() == Form::coded);
  CHECK(numbers.codes()[1] == numbers.codes()[257]);
  CHECK(numbers.codes()[1] != numbers.codes()[2]);
  CHECK(filled(8, 2, false).form() == Form::coded);
}

TEST_CASE("numbers that are seldom said twice have no codes") {
  CHECK(filled(2000, 258, true).form() == Form::bounds);
  CHECK(filled(2000, 257, false).form() == Form::points);
  CHECK(filled(40, 30, true).form() == Form::bounds);
  CHECK(filled(40, 30, false).form() == Form::points);
}

TEST_CASE("a column of numbers tells whether packs may take it as it is") {
  CHECK(filled(100, 10, true).plain());
  CHECK(filled(100, 90, true).plain());
  constexpr double infinity = std::numeric_limits<double>::infinity();
  for (const Interval odd : {Interval::of(-1, 2), Interval::of(0, infinity), Interval::entire()}) {
    for (const std::size_t distinct : {10U, 90U}) {
      ColumnNumbers numbers;
      for (std::size_t i = 0; i < 100; ++i) numbers.add(i == 99 ? odd : number(i, distinct, true));
      numbers.finish();
      CHECK_FALSE(numbers.plain());
    }
  }
}

// Continuous quantifiers: rigorous over the whole range, also where a limit is touched.
#include <doctest/doctest.h>

#include "judged_text.hpp"

using mm_test::judge_expression;
using mm_test::verdict_of;
using mm_test::word;

namespace {
const std::string none = "u: ratio";
const std::string some_u = "u 1..2";
}  // namespace

TEST_CASE("every z over a range") {
  const auto check = [](const std::string& test, const std::string& expected) {
    CAPTURE(test);
    CHECK(word(verdict_of(none, some_u, test)) == expected);
  };
  check("every z in 0..1 has z * (1 - z) <= 0.25", "fits");
  check("every z in 0..1 has z * (1 - z) <= 0.24", "conflict");
  check("every z in 0..1 has z * p.u >= 0", "fits");
  check("every z in 0..1 has z * p.u <= 2", "fits");
  check("every z in 0..1 has z * p.u <= 1", "unknown");
  check("every z in 0..1 has z * p.u <= 0.9", "conflict");
  check("every z in 0..1 has p.u + z - z >= 1", "fits");
  // front and rear meet at 0 and part from there
  check("every z in 0..15 has 0.7 * z + z ^ 2 / 100 >= 0.7 * z", "fits");
  check("every z in 0..15 has 3 * z >= 2 * z", "fits");
  check("every z in 0..15 has 3 * z > 2 * z", "conflict");
  check("every z in 1..2 where z >= 1.5 has z >= 1.49", "fits");
  check("every z in 1..2 where z >= 1.5 has z > 1.6", "conflict");
  check("every z in 1 + 1..1 has z > 100", "fits");
  check("every z in 0..1 has (z - 0.5) ^ 2 >= 0", "fits");
  check("every z in 0..1 has abs(z - 1 / 3) >= 0.0001", "conflict");
  check("every z in 0..p.u has z <= 2", "fits");
  check("every z in 0..p.u has z <= 1", "unknown");
  check("every z in 0..p.u has z <= 0.5", "conflict");
  check("every z in p.u..1.5 has z >= 1", "fits");
}

TEST_CASE("some z over a range") {
  const auto check = [](const std::string& test, const std::string& expected) {
    CAPTURE(test);
    CHECK(word(verdict_of(none, some_u, test)) == expected);
  };
  check("some z in 0..1 has z * (1 - z) >= 0.2", "fits");
  check("some z in 0..1 has z * (1 - z) > 0.25", "conflict");
  check("some z in 0..1 has z * (1 - z) > 0.26", "conflict");
  check("some z in 1 + 1..1 has z <= z", "conflict");
  check("some z in 0..1 has z >= p.u", "unknown");
  check("some z in 0..3 has z >= p.u", "fits");
  check("some z in 0..1 where z > 0.5 has z < 0.6", "fits");
  check("some z in 0..1 where z > 0.5 has z < 0.4", "conflict");
}

TEST_CASE("ranges inside ranges, and in angles") {
  CHECK(word(verdict_of(none, some_u, "every z in 0..1 has every w in 0..1 has z * w <= 1")) == "fits");
  CHECK(word(verdict_of(none, some_u, "every z in 0..1 has some w in 0..1 has w >= z")) == "fits");
  CHECK(word(verdict_of(none, some_u, "every t in 0 deg..90 deg has sin(t) ^ 2 + cos(t) ^ 2 <= 1.001")) ==
        "fits");
  CHECK(word(verdict_of(none, some_u, "every t in 0 deg..90 deg has sin(t) <= 1")) == "fits");
}

TEST_CASE("undefined somewhere in the range is never a pass") {
  const mm::Outcome outcome = judge_expression(none, some_u, "every z in -1..1 has 1 / z > -1e9 or z < 2");
  CHECK(word(outcome.verdict) == "fits");  // the other side of `or` holds everywhere
  CHECK(word(verdict_of(none, some_u, "every z in -1..1 has sqrt(z) >= 0")) == "unknown");
  CHECK(word(verdict_of(none, some_u, "every z in 0..1 has sqrt(z) >= 0")) == "fits");
}

// Verdicts that plain interval arithmetic would leave open. Expected values follow from real arithmetic.
#include <doctest/doctest.h>

#include "judged_text.hpp"

using namespace mm;
using mm_test::judge_expression;
using mm_test::verdict_of;
using mm_test::word;

namespace {

struct Row {
  std::string test, expected;
};

const std::string two = "x: ratio  y: ratio";
const std::string positive = "x 1..2\n y 3..5";

void check_rows(std::initializer_list<Row> rows, const std::string& values) {
  for (const Row& row : rows) {
    CAPTURE(row.test);
    CHECK(word(verdict_of(two, values, row.test)) == row.expected);
  }
}

}  // namespace

TEST_CASE("a value that occurs twice is one value") {
  check_rows({{"p.x - p.x <= 0", "fits"},
              {"p.x - p.x >= 0", "fits"},
              {"p.x - p.x < 0", "conflict"},
              {"p.x / (p.x + p.y) < 1", "fits"},
              {"p.x / (p.x + p.y) <= 2 / 5", "fits"},
              {"p.x / (p.x + p.y) >= 1 / 6", "fits"},
              {"p.x / (p.x + p.y) < 2 / 5", "unknown"},
              {"p.x / (p.x + p.y) > 2 / 5", "conflict"},
              {"0.7 * p.x + p.y - 0.7 * p.x <= 5", "fits"},
              {"0.7 * p.x + p.y - 0.7 * p.x < 3", "conflict"},
              {"p.x / (p.x + p.y) > 0.41", "conflict"},
              {"p.x * p.x - p.x >= 0", "fits"},
              {"p.x ^ 2 - 2 * p.x <= 0", "fits"},
              {"(p.x - 1) * (p.x - 2) <= 0", "fits"},
              {"p.x * (3 - p.x) >= 1.99", "fits"},
              {"p.x * (3 - p.x) <= 2.26", "fits"},
              {"p.x * (3 - p.x) <= 2.24", "unknown"},
              {"p.y - p.x >= 1 and p.y - p.x <= 4", "fits"}},
             positive);
}

TEST_CASE("comparisons that touch their limit exactly are decided") {
  CHECK(word(verdict_of("c: length", "c 4.5 in", "p.c within 0 mm of 114.3 mm")) == "fits");
  CHECK(word(verdict_of("c: length", "c 4 mm", "p.c >= 4 mm")) == "fits");
  CHECK(word(verdict_of("c: length", "c 4 mm", "p.c > 4 mm")) == "conflict");
  CHECK(word(verdict_of("c: length", "c 18.6 mm +- 0.05 mm", "p.c <= 18.65 mm")) == "fits");
  CHECK(word(verdict_of("c: length", "c 18.6 mm +- 0.05 mm", "p.c < 18.65 mm")) == "unknown");
  CHECK(word(verdict_of("c: length", "c 0.1 mm", "3 * p.c <= 0.3 mm")) == "fits");
  CHECK(word(verdict_of("c: length", "c 1 mm +- 1 mm", "p.c within 1 mm of 1 mm")) == "fits");
  CHECK(word(verdict_of("t: angle", "t 30 deg", "sin(p.t) <= 0.5")) == "fits");
  CHECK(word(verdict_of("t: angle", "t 60 deg", "cos(p.t) >= 0.5")) == "fits");
  CHECK(word(verdict_of("t: angle", "t 45 deg", "tan(p.t) >= 1")) == "fits");
  CHECK(word(verdict_of("t: angle", "t 10 deg..30 deg", "sin(p.t) <= 0.5")) == "fits");
  CHECK(word(verdict_of("s: ratio", "s 2.25", "sqrt(p.s) <= 1.5")) == "fits");
}

TEST_CASE("an unknown is certified by a passing and a failing value") {
  for (const char* test : {"p.x >= 1.5", "p.x * p.y >= 9.9", "p.x within 0.4 of 1.5", "p.x ^ 2 <= 3.99",
                           "floor(p.x) = 1", "p.x <= 1.9 or p.y >= 4", "not (p.x <= 1.2)"}) {
    CAPTURE(test);
    const Outcome outcome = judge_expression(two, positive, test);
    CHECK(word(outcome.verdict) == "unknown");
    CHECK(outcome.certified);
    CHECK_FALSE(outcome.precision_limit);
  }
}

TEST_CASE("a rare failing value is found by cutting") {
  const Outcome narrow = judge_expression(two, positive, "abs(p.x - 1.37) + abs(p.y - 4.21) >= 0.001");
  CHECK(word(narrow.verdict) == "unknown");
  CHECK(narrow.certified);
}

TEST_CASE("what only touches inside the box, at a number that is no fraction, is given up and said so") {
  const Outcome outcome = judge_expression(two, positive, "(p.x - p.y + 2) ^ 2 + (p.x ^ 2 - 2) ^ 2 > 0");
  CHECK(word(outcome.verdict) == "unknown");
  CHECK(outcome.precision_limit);
  CHECK_FALSE(outcome.certified);
}

TEST_CASE("worlds at a turn, next to it, and where several values meet") {
  const auto is_open = [](const std::string& schema, const std::string& values, const std::string& test) {
    const Outcome outcome = judge_expression(schema, values, test);
    return word(outcome.verdict) == "unknown" && outcome.certified;
  };
  CHECK(is_open(two, positive, "(p.x - p.y + 2) ^ 2 + (p.x - 1.3) ^ 2 > 0"));
  CHECK(is_open(two, positive, "(p.y - 2 * p.x) ^ 4 > 0"));
  CHECK(is_open(two, "x 1..2\n y 1.5..5", "p.y <= p.x or p.y / (p.y - p.x) <= 1000000000"));
  CHECK(is_open(two, "x ?\n y 1.5..3", "(2 * p.x - p.y) * p.x within 0 of 1"));
  CHECK(is_open("n: count", "n ?", "0.3 * p.n within 0.1 of 7001.05"));
}

TEST_CASE("a comparison that turns over at no fraction is met between two") {
  const auto is_open = [](const std::string& values, const std::string& test) {
    const Outcome outcome = judge_expression(two, values, test);
    return word(outcome.verdict) == "unknown" && outcome.certified && !outcome.precision_limit;
  };
  CHECK(is_open("x 1..2\n y 4", "p.x ^ 2 within 0 of 2"));
  CHECK(is_open("x 1..2\n y 4", "(p.x ^ 2) in 2..2"));
  CHECK(is_open("x 1..2\n y 4", "p.x ^ 2 within 0 of exp(0.5)"));
  CHECK(is_open("x 1..2\n y 4", "p.x ^ 2 + p.y <= 6 and p.x ^ 2 - p.y >= -2"));
  CHECK(is_open("x 1..2\n y 4..5", "not p.x ^ 2 + p.y <= p.y + 3 or p.x ^ 2 < 3"));
  // it has a jump there, and does not come to the number
  CHECK_FALSE(is_open("x 1..2\n y 4", "(if p.x ^ 2 > 2 then p.x else p.x - 2) within 0 of 0.5"));
  CHECK(word(verdict_of(two, "x 1..2\n y 4", "p.x ^ 2 within 0 of 2 and p.x > 1.5")) == "conflict");
}

TEST_CASE("missing values range over what is declared, or everything") {
  CHECK(word(verdict_of("x: ratio in 0..1", "x ?", "p.x <= 1")) == "fits");
  CHECK(word(verdict_of("x: ratio in 0..1", "", "p.x <= 1")) == "fits");
  CHECK(word(verdict_of("x: ratio in 0..1", "", "p.x > 1")) == "conflict");
  CHECK(word(verdict_of("x: ratio", "", "p.x <= 1")) == "unknown");
  CHECK(word(verdict_of("x: ratio", "", "p.x - p.x <= 0 or p.x > 1")) == "fits");
  CHECK(word(verdict_of("n: count in 3..8", "", "p.n >= 3 and p.n <= 8")) == "fits");
  CHECK(judge_expression("x: ratio", "", "p.x <= 123456789").certified);
  CHECK(judge_expression("x: ratio", "", "p.x >= 1e-9 and p.x <= 2e-9").certified);
}

TEST_CASE("counts take whole values only") {
  CHECK(word(verdict_of("n: count", "n 4..6", "p.n != 4.5")) == "fits");
  CHECK(word(verdict_of("n: count", "n 4..5", "p.n * p.n != 20")) == "fits");
  CHECK(word(verdict_of("n: count", "n 4..6", "p.n = 4 or p.n = 5 or p.n = 6")) == "fits");
}

TEST_CASE("symbols: missing ones are told apart as far as the rule can") {
  const std::string choice = "s: one of red, green, blue  t: one of red, green, blue";
  CHECK(word(verdict_of(choice, "s ?  t red", "p.s = p.t")) == "unknown");
  CHECK(word(verdict_of(choice, "s ?  t red", "p.s = p.s")) == "fits");
  CHECK(word(verdict_of(choice, "s ?  t ?", "p.s = red or p.s = green or p.s = blue")) == "fits");
  CHECK(word(verdict_of(choice, "s ?  t ?", "p.s = p.t or p.s != p.t")) == "fits");
  CHECK(word(verdict_of("s: text", "", "p.s = \"a\" or p.s != \"a\"")) == "fits");
  CHECK(word(verdict_of("s: text  t: text", "", "p.s = p.t")) == "unknown");
  CHECK(word(verdict_of("s: text  t: text", "", "not (p.s = p.t and p.s = \"a\" and p.t = \"b\")")) ==
        "fits");
}

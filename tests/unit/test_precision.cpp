// Margins of claims, and what is stated of verdicts that were given up. Expected values are worked out by
// hand.
#include <doctest/doctest.h>

#include <cmath>

#include "evaluate/precision.hpp"
#include "evaluate/room.hpp"
#include "judged_text.hpp"

using namespace mm;
using namespace mm_test;

namespace {

struct Margins {
  explicit Margins(const std::string& test, const std::string& values = "x 2..3 mm\n y 1 mm\n k 4..5")
      : judged(
            "table steps { upto: length  pad: length\n 1 mm 5 mm\n 4 mm 6 mm }\n"
            "kind thing { x: length  y: length  k: ratio  f: yes_no }\nrule r {\n for p: thing\n need x: " +
            test + "\n}\npart a is thing {\n" + values + "\n}\nbuild b { fit a: a }\n"),
        designations(judged.project.model),
        bench(*judged.results.index, designations) {
    const Finding& finding = judged.finding("x");
    const RequirementDef& requirement = judged.project.model.requirements[finding.requirement];
    claim = {&requirement, &judged.project.model.rules[requirement.rule], finding.binding};
    bench.set_steps(1'000'000);
  }
  /// In millimetres.
  Interval of_lengths() {
    length.twelfths[static_cast<std::size_t>(BaseDimension::length)] = 12;
    RoomMachine<Interval> machine(bench.fast, bench);
    room = machine.room(claim, Measure{length, false});
    return mul(room.number, Interval::point(1000));
  }
  bool is_about(double lo, double hi) {
    const Interval got = of_lengths();
    return room.some && !room.undefined && std::abs(got.lo() - lo) < 1e-9 && std::abs(got.hi - hi) < 1e-9;
  }
  bool is_only(double lo, double hi) { return is_about(lo, hi) && !room.endless && !room.none; }

  JudgedText judged;
  RoundUp rounding;
  Designations designations;
  Bench bench;
  Claim claim;
  Dimension length;
  Room<Interval> room;
};

}  // namespace

TEST_CASE("the margin of a comparison, of what is joined, and of what is denied") {
  CHECK(Margins("p.x <= 5 mm").is_only(2, 3));
  CHECK(Margins("p.x > 5 mm").is_only(-3, -2));
  CHECK(Margins("p.x within 1 mm of 2 mm").is_only(0, 1));
  CHECK(Margins("(p.x) in 1 mm..2.5 mm").is_only(-0.5, 0.5));
  CHECK(Margins("p.x <= 5 mm and p.y >= 0.25 mm").is_only(0.75, 0.75));
  CHECK(Margins("p.x <= 5 mm or p.y >= 0.25 mm").is_only(2, 3));
  CHECK(Margins("not p.x <= 5 mm").is_only(-3, -2));
  CHECK(Margins("if p.y > 0 mm then p.x <= 5 mm else p.x >= 9 mm").is_only(1, 1));
  CHECK(Margins("every z in 1 mm..2 mm has p.x >= z").is_only(0, 1));
  CHECK(Margins("some z in 1 mm..2 mm has p.x <= z").is_only(-1, 0));
  CHECK(Margins("every q: thing has q.x <= 5 mm").is_only(2, 3));
  CHECK(Margins("(p.y + 2 mm) in steps").is_only(-1, -1));
}

TEST_CASE("what is no comparison of lengths holds, or fails, by an endless margin") {
  Margins counts("p.k <= 4.5 or p.x <= 5 mm");
  CHECK(counts.is_about(2, 3));
  CHECK(counts.room.endless);
  CHECK_FALSE(counts.room.none);
  Margins flags("p.f and p.x <= 5 mm", "x 2..3 mm\n f ?");
  CHECK(flags.is_about(2, 3));
  CHECK(flags.room.none);
  CHECK_FALSE(flags.room.endless);
}

TEST_CASE("undefined is neither: no `and` undefined is no") {
  const std::string values = "x 2..3 mm\n y 1 mm\n k -1..1";
  Margins open("p.x / p.k <= 5 mm", values);
  open.of_lengths();
  CHECK(open.room.undefined);
  Margins no("p.x / p.k <= 5 mm and p.x > 5 mm", values);
  no.of_lengths();
  CHECK_FALSE(no.room.undefined);
  Margins yes("p.x / p.k <= 5 mm or p.x > 1 mm", values);
  yes.of_lengths();
  CHECK_FALSE(yes.room.undefined);
}

TEST_CASE(
    "of what is asked only where another comparison does not decide no margin is told where that does") {
  Margins guarded("p.x / (p.y - 8 mm) * (1 mm) > 16 mm or not p.y > 8 mm");
  guarded.of_lengths();
  CHECK(guarded.room.endless);
  CHECK(guarded.room.none);
}

TEST_CASE("what was given up states a margin that is true and small") {
  // it touches nothing at x = sqrt(2), y = x + 2, and is greater elsewhere; 10.25 at x = 2, y = 1.5 is the
  // most
  const Outcome outcome = judge_expression("x: ratio  y: ratio", "x 1..2\n y 1.5..4",
                                           "(p.x - p.y + 2) ^ 2 + (p.x ^ 2 - 2) ^ 2 > 0");
  CHECK(word(outcome.verdict) == "unknown");
  REQUIRE(outcome.precision_limit);
  REQUIRE(outcome.precision);
  CHECK(outcome.precision->least <= 0);
  CHECK(outcome.precision->least > -1e-2);
  CHECK(outcome.precision->most >= 10.25);
  CHECK(outcome.precision->most < 20);
}

TEST_CASE("nothing is stated of a verdict that is decided, nor of one that worlds show to be open") {
  for (const char* test : {"p.x <= 3", "p.x <= 1.5", "p.x <= 0.5"})
    CHECK_FALSE(judge_expression("x: ratio", "x 1..2", test).precision);
}

// What a verdict carries: room to spare, who is to blame and how well to measure, evidence, states, reasons.
// Expected numbers follow from the arithmetic of the small builds below.
#include <doctest/doctest.h>

#include <cmath>

#include "evaluate/trace.hpp"
#include "judged_text.hpp"

using namespace mm;
using mm_test::judge_expression;
using mm_test::JudgedText;
using mm_test::word;

namespace {

Rational millimetres(long hundredths) { return Rational(hundredths, 100'000); }

bool near(const std::optional<Interval>& margin, double lo, double hi) {
  return margin && std::abs(margin->lo() - lo) < 1e-12 && std::abs(margin->hi - hi) < 1e-12;
}

std::optional<Limit> from_of(const ValueSet& values) {
  return values.empty() ? std::nullopt : values.regions().back().from;
}

std::optional<Limit> to_of(const ValueSet& values) {
  return values.empty() ? std::nullopt : values.regions().front().to;
}

}  // namespace

TEST_CASE("margin: room to spare of comparisons joined by and") {
  const std::string length = "a: length  b: length";
  CHECK(near(judge_expression(length, "a 5 mm +- 0.1 mm", "p.a <= 6 mm").margin, 0.0009, 0.0011));
  CHECK(near(judge_expression(length, "a 7 mm +- 0.1 mm", "p.a <= 6 mm").margin, -0.0011, -0.0009));
  CHECK(near(judge_expression(length, "a 5 mm  b 9 mm", "p.a <= 6 mm and p.b <= 9.5 mm").margin, 0.0005,
             0.0005));
  CHECK(
      near(judge_expression(length, "a 5 mm  b 5.3 mm", "p.a within 0.4 mm of p.b").margin, 0.0001, 0.0001));
  CHECK(near(judge_expression(length, "a 4 mm..6 mm", "p.a - p.a <= 1 mm").margin, 0.001, 0.001));
  CHECK_FALSE(judge_expression(length, "a 5 mm", "p.a <= 6 mm or p.a >= 9 mm").margin);
}

TEST_CASE("blame: limits and fineness of one value") {
  const Outcome outcome = judge_expression("a: length", "a 10 mm +- 0.2 mm", "p.a >= 9.9 mm");
  REQUIRE(outcome.blames.size() == 1);
  const Blame& blame = outcome.blames[0];
  CHECK_FALSE(blame.missing);
  CHECK(from_of(blame.fits) == Limit{millimetres(990)});
  CHECK(to_of(blame.fails) == Limit{millimetres(990), true});
  CHECK_FALSE(to_of(blame.fits));
  CHECK(blame.needed_half_width == millimetres(10));
}

TEST_CASE("blame: at a strict limit the limit itself fails, and of whole numbers the next one is told") {
  const Outcome less = judge_expression("a: length", "a 10 mm +- 0.2 mm", "p.a > 9.9 mm");
  REQUIRE(less.blames.size() == 1);
  CHECK(from_of(less.blames[0].fits) == Limit{millimetres(990), true});
  CHECK(to_of(less.blames[0].fails) == Limit{millimetres(990)});
  const Outcome count = judge_expression("n: count", "", "p.n > 3");
  REQUIRE(count.blames.size() == 1);
  CHECK(from_of(count.blames[0].fits) == Limit{4});
  CHECK(to_of(count.blames[0].fails) == Limit{3});
}

TEST_CASE("blame: between limits that meet in a value that fails nothing fits") {
  const Outcome outcome =
      judge_expression("a: length  b: length", "b 9 mm..10 mm", "p.a > p.b and p.a <= p.b + 1 mm");
  REQUIRE(outcome.verdict == Verdict::unknown);
  for (const Blame& blame : outcome.blames) {
    CHECK_FALSE(from_of(blame.fits));
    CHECK_FALSE(to_of(blame.fits));
  }
}

TEST_CASE("blame: a bent limit that is a short number is told as it is") {
  for (const char* test :
       {"p.a * p.a <= 225 mm^2", "600 mm^2 / p.a >= 40 mm", "sqrt(p.a * 15 mm) <= 15 mm"}) {
    const Outcome outcome = judge_expression("a: length", "a 10 mm..20 mm", test);
    REQUIRE(outcome.blames.size() == 1);
    CHECK(to_of(outcome.blames[0].fits) == Limit{millimetres(1500)});
    CHECK(from_of(outcome.blames[0].fails) == Limit{millimetres(1500), true});
  }
}

TEST_CASE("blame: the other values keep their spread") {
  const Outcome outcome =
      judge_expression("a: length  b: length", "a 10 mm +- 0.3 mm  b 9.7 mm +- 0.1 mm", "p.a >= p.b");
  REQUIRE(outcome.blames.size() == 2);
  const Blame& a = outcome.blames[0];
  CHECK(from_of(a.fits) == Limit{millimetres(980)});
  CHECK_FALSE(to_of(a.fails));  // 9.6 mm lies outside what a can be
  CHECK(a.needed_half_width == millimetres(20));
  // b alone cannot settle it: a may be as low as 9.7 mm, which b's middle just meets
  const Blame& b = outcome.blames[1];
  CHECK(to_of(b.fits) == Limit{millimetres(970)});
  CHECK_FALSE(b.needed_half_width);
}

TEST_CASE("blame: a window on both sides, and a count") {
  const Outcome circle = judge_expression("c: length", "", "p.c within 0.1 mm of 114.3 mm");
  REQUIRE(circle.blames.size() == 1);
  CHECK(circle.blames[0].missing);
  CHECK(from_of(circle.blames[0].fits) == Limit{millimetres(11420)});
  CHECK(to_of(circle.blames[0].fits) == Limit{millimetres(11440)});
  CHECK(to_of(circle.blames[0].fails) == Limit{millimetres(11420), true});
  CHECK(from_of(circle.blames[0].fails) == Limit{millimetres(11440), true});
  const Outcome holes = judge_expression("n: count", "", "p.n = 5");
  REQUIRE(holes.blames.size() == 1);
  CHECK(from_of(holes.blames[0].fits) == Limit{Rational(5)});
  CHECK(to_of(holes.blames[0].fits) == Limit{Rational(5)});
}

TEST_CASE("blame: comparisons that are not joined by and") {
  const auto told = [](const char* attributes, const char* given, const char* test) {
    const Outcome outcome = judge_expression(attributes, given, test);
    REQUIRE(outcome.blames.size() == 1);
    return outcome.blames[0];
  };
  const Blame either = told("a: length", "", "p.a <= 5 mm or p.a >= 9 mm");
  REQUIRE(either.fits.regions().size() == 2);
  CHECK(either.fits.regions()[0].to == Limit{millimetres(500)});
  CHECK(either.fits.regions()[1].from == Limit{millimetres(900)});
  REQUIRE(either.fails.regions().size() == 1);
  CHECK(either.fails.regions()[0].from == Limit{millimetres(500), true});
  CHECK(either.fails.regions()[0].to == Limit{millimetres(900), true});
  const Blame not_near = told("a: length", "", "abs(p.a - 3 mm) >= 1 mm and p.a <= 7 mm");
  REQUIRE(not_near.fits.regions().size() == 2);
  CHECK(not_near.fits.regions()[1].from == Limit{millimetres(400)});
  CHECK(not_near.fits.regions()[1].to == Limit{millimetres(700)});
  CHECK(not_near.fails.regions().size() == 2);
  const Blame chosen = told("a: length  y: yes_no", "y yes", "if p.y then p.a >= 10 mm else p.a >= 20 mm");
  CHECK(from_of(chosen.fits) == Limit{millimetres(1000)});
  CHECK(to_of(chosen.fails) == Limit{millimetres(1000), true});
  const Blame denied = told("a: length", "", "not (p.a > 4 mm and p.a < 6 mm)");
  CHECK(from_of(denied.fits) == Limit{millimetres(600)});
  CHECK(from_of(denied.fails) == Limit{millimetres(400), true});
  // the middle is in a region of what fits, 1 mm from its nearer end
  CHECK(told("a: length", "a 3 mm +- 2.5 mm", "p.a <= 4 mm or p.a >= 5 mm").needed_half_width ==
        millimetres(100));
}

TEST_CASE("blame: only what matters, missing values first") {
  const Outcome outcome =
      judge_expression("a: length  b: length  c: length", "a 10 mm +- 0.3 mm  c 1 mm +- 0.1 mm",
                       "p.a + p.b >= 12 mm and p.c <= 2 mm");
  REQUIRE(outcome.blames.size() == 2);
  CHECK(outcome.blames[0].missing);
  CHECK(from_of(outcome.blames[0].fits) == Limit{millimetres(230)});
  CHECK(to_of(outcome.blames[0].fails) == Limit{millimetres(170), true});
}

TEST_CASE("blame: where the conflict is the nearer side, the fineness stays clear of the limit") {
  const Outcome outcome = judge_expression("a: length", "a 10 mm +- 0.2 mm", "p.a >= 10.1 mm");
  REQUIRE(outcome.blames.size() == 1);
  REQUIRE(outcome.blames[0].needed_half_width);
  CHECK(*outcome.blames[0].needed_half_width < millimetres(10));
  CHECK(*outcome.blames[0].needed_half_width > millimetres(9));
}

TEST_CASE("blame: a bent line is followed to a ten-millionth") {
  const Outcome outcome = judge_expression("a: ratio in 0..10", "", "p.a ^ 3 + p.a <= 30");
  REQUIRE(outcome.blames.size() == 1);
  REQUIRE(to_of(outcome.blames[0].fits));
  CHECK(to_of(outcome.blames[0].fits)->at.to_double() == doctest::Approx(3.0).epsilon(1e-6));
  CHECK(to_of(outcome.blames[0].fits)->at <= 3);
}

TEST_CASE("evidence: the weakest value that was used, and only of the branch that was taken") {
  const std::string two = "a: length  b: length  hard: yes_no";
  const Outcome used = judge_expression(two, "a 5 mm per measured  b 6 mm per hearsay", "p.a <= p.b");
  CHECK(used.evidence == Grade::hearsay);
  const Outcome branch =
      judge_expression(two, "a 5 mm per measured  b 6 mm per hearsay  hard yes per measured",
                       "(if p.hard then p.a else p.b) <= 6 mm");
  CHECK(branch.evidence == Grade::measured);
  const Outcome decided =
      judge_expression(two, "a 5 mm per measured  b 6 mm per hearsay", "p.a <= 6 mm or p.b <= 1 mm");
  CHECK(decided.evidence == Grade::measured);
}

TEST_CASE("undefined arithmetic is unknown with its reason") {
  const std::string one = "a: ratio";
  const Outcome zero = judge_expression(one, "a -1..1", "1 / p.a <= 5");
  CHECK(word(zero.verdict) == "unknown");
  CHECK(zero.open_reason->text == "division by a range that holds zero");
  CHECK(word(judge_expression(one, "a -1..1", "1 / p.a <= 5 or p.a <= 1").verdict) == "fits");
  CHECK(word(judge_expression(one, "a -1..1", "1 / p.a <= 5 and p.a > 1").verdict) == "conflict");
  CHECK(word(judge_expression(one, "a -2..-1", "sqrt(p.a) <= 5").verdict) == "unknown");
  const Outcome row = judge_expression("t: length", "t 7 mm", "pipes[tube = p.t].nut >= 1",
                                       "table pipes { tube: mm  nut: count\n 5 10\n 6 12\n}");
  CHECK(row.open_reason->text == "no row of pipes for tube = 7 mm");
}

TEST_CASE("states: candidates of a slot, and with and without planned work") {
  const JudgedText judged(
      "kind hub { circle: length }\nkind wheel { circle: length  colour: text }\n"
      "rule r { for w: wheel, h: hub\n need circle: w.circle within 0.1 mm of h.circle\n"
      " need plain: h.circle <= 200 mm\n}\n"
      "part h is hub { circle 112 mm }\npart w1 is wheel { circle 108 mm }\npart w2 is wheel { circle 112 mm "
      "}\n"
      "build b { fit hub: h  fit wheel: one of w1, w2\n"
      " rework O1 \"redrill\" on hub { circle 108 mm } planned by \"machinist\"\n}\n");
  const Finding& finding = judged.finding("circle");
  REQUIRE(finding.cases.size() == 4);
  CHECK(finding.slots.size() == 1);
  CHECK(finding.reworks.size() == 1);
  CHECK(finding.cases[0].reworks.empty());
  CHECK(finding.cases[0].choices[0].second == 0);
  std::string words;
  for (const Case& state : finding.cases) {
    words += std::to_string(state.choices[0].second) + (state.reworks.empty() ? "" : "+O1") + "=" +
             word(state.outcome.verdict) + " ";
  }
  CHECK(words == "0=conflict 0+O1=fits 1=fits 1+O1=conflict ");
  CHECK(judged.finding("plain").slots.empty());
  CHECK(judged.finding("plain").cases.size() == 2);
}

TEST_CASE("a setting only where it matters") {
  const std::string two = "a: length  k: length";
  CHECK(word(judge_expression(two, "a 5 mm  k adjustable 1..9 mm", "p.a >= p.k").verdict) == "setting");
  CHECK(word(judge_expression(two, "a 5 mm  k adjustable 1..4 mm", "p.a >= p.k").verdict) == "fits");
  CHECK(word(judge_expression(two, "k adjustable 1..4 mm", "p.a >= 2 mm and p.k <= 4 mm").verdict) ==
        "unknown");
}

TEST_CASE("the reason tree names the values that were read") {
  const JudgedText judged(
      "kind thing { a: length  b: length }\nrule r { for p: thing\n need x: p.a + p.b <= 6 mm { because "
      "\"{p.a} and "
      "{p.a + p.b}\" } }\n"
      "part t is thing { a 0.1 in  b 3 mm }\nbuild b { fit t: t }\n");
  const TraceNode tree = Tracer(judged.results, judged.names).trace(judged.finding("x"), 0);
  CHECK(tree.code == OpCode::le);
  CHECK(tree.truth == Truth::yes);
  REQUIRE(tree.children.size() == 2);
  CHECK(tree.children[0].code == OpCode::add);
  CHECK(tree.children[0].number.contains(0.00554));
  REQUIRE(tree.children[0].children.size() == 2);
  CHECK(tree.children[0].children[0].cell);
  const RequirementDef& requirement = judged.project.model.requirements[judged.finding("x").requirement];
  CHECK(Tracer(judged.results, judged.names).fill(judged.finding("x"), 0, requirement.because).text ==
        "0.1 in and 0.2181 in");
}

TEST_CASE("hostile nesting of quantifiers ends in bounded work") {
  std::string text = "kind thing { a: ratio }\nrule r { for p: thing\n need x: ";
  for (int i = 0; i < 9; ++i) text += "every q" + std::to_string(i) + ": thing has ";
  text += "q0.a + q8.a <= 2\n}\npart t is thing { quantity 20  a 1..2 }\nbuild b {\n place ";
  for (int i = 0; i < 20; ++i) text += (i ? ", l" : "l") + std::to_string(i);
  text += "\n fit t: t at ";
  for (int i = 0; i < 20; ++i) text += (i ? ", l" : "l") + std::to_string(i);
  const JudgedText judged(text + "\n}\n");
  CHECK(word(judged.verdict("x")) == "unknown");
  CHECK(judged.outcome("x").precision_limit);
}

TEST_CASE("of many parts without a place each has a name for where it is only if a rule asks") {
  const auto names_made = [](const std::string& where) {
    std::string text = "kind thing { a: ratio }\nkind other { a: ratio }\nrule r {\n for p: thing, q: other" +
                       where + "\n need x: p.a <= q.a\n}\n";
    std::string fits = "fit o: o";
    for (int i = 0; i < 300; ++i) {
      text += fmt::format("part t{0} is thing {{ a 1 }}\n", i);
      fits += fmt::format("  fit t{0}: t{0}", i);
    }
    const JudgedText judged(text + "part o is other { a 2 }\nbuild b { " + fits + " }\n");
    return std::pair(static_cast<bool>(judged.names.find("(t299)")), judged.count("x"));
  };
  CHECK(names_made("") == std::pair(false, std::size_t{300}));
  CHECK(names_made("\n where p.place = q.place") == std::pair(true, std::size_t{0}));
}

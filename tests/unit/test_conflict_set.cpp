// Requirements that can each be met but not all together. Each build below is settled by hand.
#include <doctest/doctest.h>

#include <set>

#include "judged_text.hpp"
#include "solve/members.hpp"

using namespace mm;
using mm_test::JudgedText;

namespace {

/// Names of the members of each set, "a b", in order.
std::vector<std::string> sets_of(const std::string& attributes, const std::string& values,
                                 const std::string& needs) {
  const JudgedText judged("kind thing {\n" + attributes + "\n}\nrule r {\n for p: thing\n" + needs +
                          "\n}\npart t is thing {\n" + values + "\n}\nbuild b { fit t: t }\n");
  std::vector<std::string> out;
  for (const ConflictSet& set : find_conflict_sets(judged.project, judged.results, judged.names).sets) {
    std::set<std::string> names;
    for (const auto& [finding, state] : set.members) {
      const RequirementId id = judged.results.findings[finding].requirement;
      names.insert(std::string(judged.names.text(judged.project.model.requirements[id].name)));
    }
    std::string text;
    for (const std::string& name : names) text += (text.empty() ? "" : " ") + name;
    out.push_back(text);
  }
  return out;
}

using Sets = std::vector<std::string>;

}  // namespace

TEST_CASE("x >= 5 and x <= 4 on a value of which nothing is known") {
  CHECK(sets_of("x: ratio", "", "need low: p.x >= 5\nneed high: p.x <= 4") == Sets{"high low"});
  CHECK(sets_of("x: ratio", "", "need low: p.x >= 4\nneed high: p.x <= 5") == Sets{});
  CHECK(sets_of("x: ratio", "", "need low: p.x >= 5\nneed high: p.x <= 5") == Sets{});
  CHECK(sets_of("x: ratio", "", "need low: p.x > 5\nneed high: p.x <= 5") == Sets{"high low"});
  CHECK(sets_of("x: length", "", "need low: p.x >= 5 mm\nneed high: p.x <= 4.999 mm") == Sets{"high low"});
}

TEST_CASE("three that pull in a ring, none of them alone or in pairs") {
  CHECK(sets_of("x: ratio  y: ratio  z: ratio", "x 0..10  y 0..10  z 0..10",
                "need xy: p.x >= p.y + 1\nneed yz: p.y >= p.z + 1\nneed zx: p.z >= p.x + 1") ==
        Sets{"xy yz zx"});
}

TEST_CASE("the smallest set leaves out what has nothing to do with it") {
  CHECK(sets_of("x: ratio  y: ratio", "x 0..10  y 0..10",
                "need a: p.x >= 6\nneed b: p.x + p.y <= 9\nneed c: p.y >= 5\nneed d: p.y <= 9") ==
        Sets{"a b c"});
}

TEST_CASE("counts have no values between") {
  CHECK(sets_of("n: count", "n 1..9", "need low: p.n > 4\nneed high: p.n < 5") == Sets{"high low"});
  CHECK(sets_of("x: ratio", "x 1..9", "need low: p.x > 4\nneed high: p.x < 5") == Sets{});
}

TEST_CASE("products and squares") {
  CHECK(sets_of("x: ratio  y: ratio", "x 1..10  y 1..10",
                "need area: p.x * p.y >= 50\nneed edge: p.x + p.y <= 12") == Sets{"area edge"});
  CHECK(sets_of("x: ratio  y: ratio", "x 1..10  y 1..10",
                "need area: p.x * p.y >= 35\nneed edge: p.x + p.y <= 12") == Sets{});
}

TEST_CASE("a should is no need, and one that fails alone is no set") {
  CHECK(sets_of("x: ratio", "x 0..10", "need low: p.x >= 5\nshould high: p.x <= 4") == Sets{});
  CHECK(sets_of("x: ratio", "x 0..10", "need low: p.x >= 11\nneed high: p.x <= 4") == Sets{});
}

TEST_CASE("a set is found beside others whose search comes to no end") {
  CHECK(sets_of("x: length in 0 mm..100 mm  y: length in 0 mm..100 mm  z: length in 0 mm..100 mm  w: length "
                "in 0 mm..100 mm",
                "",
                "need lo: p.x >= 5 mm\nneed hi: p.x <= 4 mm\nneed l1: p.x <= p.y + 1 mm\nneed l2: p.y * p.z "
                ">= 1 mm^2\n"
                "need l3: p.z <= p.w\nneed l5: p.z <= p.y - 1 mm\nneed l6: p.y <= p.z\n"
                "need l4: p.x + p.y + p.z + p.w <= 300 mm") == Sets{"hi lo", "l5 l6"});
}

TEST_CASE("what lies between two settings is no setting") {
  const std::string needs = "need lo: p.u >= 0.4\nneed hi: p.u <= 0.6";
  CHECK(sets_of("u: ratio", "u adjustable 0..10 step 1", needs) == Sets{"hi lo"});
  CHECK(sets_of("u: ratio", "u adjustable 0..10 step 0.5", needs) == Sets{});
  CHECK(sets_of("u: ratio", "u adjustable one of 0.1, 0.3, 0.7, 2", needs) == Sets{"hi lo"});
  CHECK(sets_of("u: ratio", "u adjustable one of 0.1, 0.5, 0.7, 2", needs) == Sets{});
  CHECK(sets_of("u: ratio", "u adjustable 0..10", needs) == Sets{});
}

TEST_CASE("members that a single world meets, at a corner") {
  CHECK(sets_of("x: ratio  z: ratio", "x 4..5  z 4..5", "need a: p.z <= p.x - 1\nneed b: p.x <= p.z") ==
        Sets{"a b"});
  CHECK(sets_of("x: ratio  y: ratio  z: ratio", "x 4..5  y 4..5  z 4..5",
                "need xy: p.x <= p.y\nneed yz: p.y <= p.z\nneed zx: p.z <= p.x - 1") == Sets{"xy yz zx"});
}

TEST_CASE("only what has an open value in common with another is looked at") {
  const JudgedText judged(
      "kind thing { x: ratio  y: ratio  z: ratio }\nrule r {\n for p: thing\n need a: p.x >= 6\n"
      " need b: p.x <= 9\n need alone: p.y >= 5\n need settled: p.z >= 5\n}\n"
      "part t is thing { x 0..10  y 0..10  z 7 }\nbuild b { fit t: t }\n");
  const std::vector<Member> members = open_members(judged.project, judged.results, judged.names, "", nullptr);
  REQUIRE(members.size() == 2);
  CHECK(judged.names.text(members[0].claim.requirement->name) == "a");
  CHECK(judged.names.text(members[1].claim.requirement->name) == "b");
}

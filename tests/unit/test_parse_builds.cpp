// Text to tree: builds and trials.
#include <doctest/doctest.h>

#include "expression_shape.hpp"

using namespace mm;
using mm_test::Parsed;
using mm_test::Shape;

TEST_CASE("builds") {
  const Parsed p(
      "build van \"title\" { use \"x\"\n place fl, rl hand left  place tail\n fit wheel: alloy at fl, rl "
      "each 5 { a 3 mm }\n"
      "fit master: one of m1, m2\n join wheel.mount + hub.face at fl\n join n: a.f + b.g + c.h\n"
      "join clamped left { bolt b.shank  layer g.body, p } at fl\n"
      "rework O1 \"redrill\" on shaft { flange.circle 108 mm } planned by \"somebody\"\n"
      "waive circle on wheel.rl because \"b\" by \"me\" until 2026-06-01\n stage s \"t\" uses axle, gears }");
  REQUIRE_MESSAGE(p.clean(), p.said());
  const auto& b = p.only<BuildDecl>();
  CHECK_FALSE(b.is_trial);
  CHECK(b.uses.size() == 1);
  CHECK(b.places.at(0).names.size() == 2);
  CHECK(p.name(*b.places.at(0).hand) == "left");
  CHECK(b.fits.at(0).places.size() == 2);
  CHECK(p.text(b.fits.at(0).each->span()) == "5");
  CHECK(b.fits.at(0).overrides.size() == 1);
  CHECK(b.fits.at(1).is_slot);
  CHECK(b.fits.at(1).parts.size() == 2);
  CHECK(b.joins.at(0).faces.size() == 2);
  CHECK(b.joins.at(0).places.size() == 1);
  CHECK(p.name(*b.joins.at(1).label) == "n");
  CHECK(b.joins.at(1).faces.size() == 3);
  CHECK(p.name(*b.joins.at(2).interface) == "clamped");
  CHECK(p.name(*b.joins.at(2).label) == "left");
  CHECK(b.joins.at(2).fills.at(1).faces.size() == 2);
  CHECK(b.joins.at(2).places.size() == 1);
  CHECK_FALSE(b.reworks.at(0).done);
  CHECK(b.reworks.at(0).by->text == "somebody");
  CHECK(b.waivers.at(0).until->date.year == 2026);
  CHECK(b.stages.at(0).uses.size() == 2);
}

TEST_CASE("trials") {
  const Parsed p(
      "trial \"t\" { part w is wheel { mount { circle 108 mm } }\n fit x: w\n expect conflict c\n expect "
      "unknown d on w.mount\n"
      "expect that 1 in = 25.4 mm }");
  REQUIRE_MESSAGE(p.clean(), p.said());
  const auto& t = p.only<BuildDecl>();
  CHECK(t.is_trial);
  CHECK(t.title->text == "t");
  CHECK(t.parts.at(0).assignments.size() == 1);
  REQUIRE(t.expects.size() == 3);
  CHECK(t.expects[1].on->names.size() == 2);
  CHECK(Shape(p).of(t.expects[2].that) == "(1:in1 = 25.4:mm1)");
}

TEST_CASE("what is bound is dropped with the room that it took") {
  Parsed p(
      "build b { fit x: w  fit y: v  join x.m + y.n\n rework O1 \"o\" on x.m { a 1 } planned by \"s\"\n"
      " waive c on x because \"b\" by \"m\" until 2026-06-01 }");
  REQUIRE_MESSAGE(p.clean(), p.said());
  drop_what_is_bound(p.tree);
  const auto& b = p.only<BuildDecl>();
  CHECK(b.fits.capacity() == 0);
  CHECK(b.joins.capacity() == 0);
  CHECK(b.reworks.capacity() == 0);
  CHECK(b.waivers.capacity() == 0);
  CHECK(b.span.end != 0);
}

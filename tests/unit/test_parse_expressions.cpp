// Text to tree: expressions.
#include <doctest/doctest.h>

#include "expression_shape.hpp"

using mm_test::shape;

TEST_CASE("operators bind as the language says") {
  CHECK(shape("a + b * c - d = e") == "(((a + (b * c)) - d) = e)");
  CHECK(shape("a - b - c < d / e / f") == "(((a - b) - c) < ((d / e) / f))");
  CHECK(shape("-a ^ b ^ -c >= 1") == "((neg (a ^ (b ^ (neg c)))) >= 1)");
  CHECK(shape("-a * -b > 0") == "(((neg a) * (neg b)) > 0)");
  CHECK(shape("a or b and not c or d") == "((a or (b and (not c))) or d)");
  CHECK(shape("not not a = b") == "(not (not (a = b)))");
  CHECK(shape("(a + b) * c != d") == "(((a + b) * c) != d)");
  CHECK(shape("a within 0.1 mm + t of b + c and d") == "((within a (0.1:mm1 + t) (b + c)) and d)");
  CHECK(shape("x in 12..24 mm and y in lo..hi + 1") == "((in x 12:mm1 24:mm1) and (in y lo (hi + 1)))");
  CHECK(shape("x in sizes or (a, b + 1) in pairs") == "((in-table x sizes) or (in-table a (b + 1) pairs))");
}

TEST_CASE("what stands alone in an expression") {
  CHECK(shape("wheel.size.rim = 15 in") == "(wheel.size.rim = 15:in1)");
  CHECK(shape("f(a, b + 1) = g()") == "((f a (b + 1)) = (g))");
  CHECK(shape("t[size = d, length >= 3 mm].pitch = \"M10\"") == "((t size=d length>=3:mm1 .pitch) = 'M10')");
  CHECK(shape("t[a = 1].b.c = yes") == "((t a=1 .b).c = yes)");
  CHECK(shape("if a then b else if c then d else e + 1 = f") == "(if a b (if c d ((e + 1) = f)))");
  CHECK(shape("d > 2026-03-14") == "(d > 2026-03-14)");
  CHECK(shape("(mate of w.mount).pilot <= part_of mate of x") ==
        "((mate w.mount).pilot <= (part_of (mate x)))");
  CHECK(shape("1 1/4 in * 3/8 in = 1/2") == "((1 1/4:in1 * 3/8:in1) = (1 / 2))");
  CHECK(shape("9.8 m/s^2 * 3 N*m = 45%") == "((9.8:m1:s-2 * 3:N1:m1) = 45:percent1)");
  CHECK(shape("3 mm*x = 4 mm*a.b") == "((3:mm1 * x) = (4:mm1 * a.b))");
}

TEST_CASE("quantifiers and aggregates") {
  CHECK(shape("some p: pads where p.a = b has p.c and d") == "(some <p:pads> (p.a = b) (p.c and d))");
  CHECK(shape("every layer has layer.hole > 3 mm") == "(every <layer> - (layer.hole > 3:mm1))");
  CHECK(shape("every z in 0.15..0.80 where z > a has f(z)") == "(every <z:0.15..0.80> (z > a) (f z))");
  CHECK(shape("some x: part reachable from w.mount through lug, flare has x.ok") ==
        "(some <x:part from w.mount lug flare> - x.ok)");
  CHECK(shape("count of layer + 1 >= 2") == "(((count - <layer> -) + 1) >= 2)");
  CHECK(shape("count of x: wheel where x.a or b") == "(count - <x:wheel> (x.a or b))");
  CHECK(shape("bolt.length - sum of layer.thickness >= 3 mm") ==
        "((bolt.length - (sum layer.thickness <> -)) >= 3:mm1)");
  CHECK(shape("max of a.b * a.c for a: k = 1") == "((max (a.b * a.c) <a:k> -) = 1)");
  CHECK(shape("min(a, b) = count") == "((min a b) = count)");
}

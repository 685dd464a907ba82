#include <doctest/doctest.h>

#include <algorithm>

#include "evaluate/zeros.hpp"

using mm::Rational;
using mm::Seen;

namespace {

template <class Function>
std::vector<Rational> zeros_of(const Function& f, const Rational& a, const Rational& b, const Rational& c) {
  const Seen seen[3] = {{a, f(a)}, {b, f(b)}, {c, f(c)}};
  return mm::zeros(seen);
}

bool holds(const std::vector<Rational>& found, const Rational& zero) {
  return std::find(found.begin(), found.end(), zero) != found.end();
}

}  // namespace

TEST_CASE("zeros of lines, quotients and squares through three points") {
  const auto line = [](const Rational& x) { return x * 3 - 1; };
  CHECK(holds(zeros_of(line, 0, 1, 5), Rational(1) / 3));
  const auto quotient = [](const Rational& x) { return (x * 2 - 7) / (x + 4); };
  CHECK(holds(zeros_of(quotient, 0, 1, 5), Rational(7) / 2));
  const auto square = [](const Rational& x) { return (x - 2) * (x * 3 + 1); };
  const auto both = zeros_of(square, 0, 1, 5);
  CHECK(holds(both, 2));
  CHECK(holds(both, Rational(-1) / 3));
  const auto touches = [](const Rational& x) { return (x + 250) * (x + 250); };
  CHECK(holds(zeros_of(touches, 0, 1, 5), -250));
}

TEST_CASE("no zero is made up") {
  const auto irrational = [](const Rational& x) { return x * x - 2; };
  for (const Rational& zero : zeros_of(irrational, 0, 1, 5)) CHECK(irrational(zero) != 0);
  const auto above = [](const Rational& x) { return x * x + 1; };
  for (const Rational& zero : zeros_of(above, 0, 1, 5)) CHECK(above(zero) != 0);
  const auto constant = [](const Rational&) { return Rational(4); };
  CHECK(zeros_of(constant, 0, 1, 5).empty());
  CHECK(zeros_of(irrational, 1, 1, 1).size() <=
        1);  // of one point thrice nothing follows, and nothing breaks
}

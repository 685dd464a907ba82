// Polynomials against the numbers that they stand for, and their ranges against sampled values. Expected
// values follow from ordinary algebra.
#include <doctest/doctest.h>

#include <random>

#include "evaluate/polynomial.hpp"

using namespace mm;

namespace {

Rational value_of(const Polynomial& form, const std::vector<Rational>& atoms) {
  Rational out;
  for (const Term& term : form.terms()) {
    Rational one = term.factor;
    for (const AtomPower& power : term.powers) one *= whole_power(atoms[power.atom], power.power);
    out += one;
  }
  return out;
}

class Drawn {
 public:
  explicit Drawn(unsigned seed) : engine_(seed) {}
  int below(int n) { return static_cast<int>(engine_() % static_cast<unsigned>(n)); }
  Rational ratio() { return Rational(below(41) - 20, 1 + below(6)); }
  Polynomial polynomial(bool divides) {
    Polynomial out;
    for (int i = below(4); i >= 0; --i) {
      Polynomial one(ratio());
      for (std::uint32_t atom = 0; atom < 3; ++atom) {
        const int power = below(divides ? 5 : 3) - (divides ? 2 : 0);
        if (power != 0) one = *product(one, Polynomial::of_atom(atom, power));
      }
      out = *sum(out, one, 1);
    }
    return out;
  }

 private:
  std::mt19937 engine_;
};

}  // namespace

TEST_CASE("sums and products of forms are those of their numbers") {
  Drawn drawn(1);
  for (int i = 0; i < 2000; ++i) {
    const Polynomial a = drawn.polynomial(true), b = drawn.polynomial(true);
    const Rational factor = drawn.ratio();
    std::vector<Rational> atoms;
    for (int j = 0; j < 3; ++j) atoms.push_back(Rational(1 + drawn.below(9), 1 + drawn.below(4)));
    const Rational x = value_of(a, atoms), y = value_of(b, atoms);
    CHECK(value_of(*sum(a, b, factor), atoms) == x + y * factor);
    CHECK(value_of(*product(a, b), atoms) == x * y);
    CHECK(value_of(a.without_constant(), atoms) == x - a.constant());
    if (const auto one = inverse(a)) CHECK(value_of(*one, atoms) * x == 1);
    if (const auto ratio = a.ratio_to(b)) CHECK(x == y * *ratio);
  }
}

TEST_CASE("what is equal has one form") {
  const Polynomial x = Polynomial::of_atom(0), y = Polynomial::of_atom(1);
  CHECK(*product(x, y) == *product(y, x));
  const Polynomial both = *sum(x, y, 1);
  const Polynomial square = *product(both, both);
  const Polynomial spread = *sum(*sum(*product(x, x), *product(x, y), 2), *product(y, y), 1);
  CHECK(square == spread);
  CHECK(sum(x, x, -1)->terms().empty());
  CHECK(*product(x, *inverse(x)) == Polynomial(1));
  CHECK(both.scaled(3).ratio_to(both) == Rational(3));
  CHECK_FALSE(sum(both, Polynomial(1), 1)->ratio_to(both));
  CHECK(product(*product(x, x), y)->common() == Monomial{{0, 2}, {1, 1}});
  CHECK(sum(*product(x, y), *product(x, x), 1)->common() == Monomial{{0, 1}});
}

TEST_CASE("a form that would grow too long is not made") {
  Polynomial all;
  for (std::uint32_t atom = 0; atom < 20; ++atom) all = *sum(all, Polynomial::of_atom(atom), 1);
  CHECK_FALSE(product(all, all));
  CHECK_FALSE(product(Polynomial::of_atom(0, 40), Polynomial::of_atom(0, 40)));
}

TEST_CASE("a range holds every value, and is no wider than it must be for one slope") {
  Drawn drawn(2);
  for (int i = 0; i < 1000; ++i) {
    const bool divides = i % 2 == 0;
    const Polynomial form = drawn.polynomial(divides);
    std::vector<ExactInterval> ranges;
    for (int j = 0; j < 3; ++j) {
      const Rational lo = drawn.ratio();
      ranges.push_back(ExactInterval::of(lo, lo + Rational(drawn.below(30), 4)));
    }
    const ExactInterval range = range_of(form, ranges);
    for (int j = 0; j < 40; ++j) {
      std::vector<Rational> atoms;
      bool defined = true;
      for (const ExactInterval& one : ranges) {
        atoms.push_back(one.lo_value + (one.hi_value - one.lo_value) * drawn.below(9) / 8);
        defined = defined && (!divides || atoms.back().sign() != 0);
      }
      if (defined) CHECK(range.contains(value_of(form, atoms)));
    }
  }
  const Polynomial x = Polynomial::of_atom(0), y = Polynomial::of_atom(1);
  const std::vector<ExactInterval> box{ExactInterval::of(1, 2), ExactInterval::of(3, 5)};
  const ExactInterval product_less = range_of(*sum(*product(x, y), x, -1), box);  // x (y - 1)
  CHECK(product_less.lo_value == 2);
  CHECK(product_less.hi_value == 8);
}

TEST_CASE("a sign is certain where every term has it, also without an end") {
  const Polynomial x = Polynomial::of_atom(0), over_x = Polynomial::of_atom(0, -1);
  ExactInterval endless = ExactInterval::of(3, 3);
  endless.hi_infinite = true;
  CHECK(sign_of(over_x, {endless}) == 1);
  CHECK(sign_of(over_x.scaled(-2), {endless}) == -1);
  CHECK(sign_of(*sum(x, over_x, -1), {endless}) == 0);
  CHECK(sign_of(*sum(x, over_x, 1), {endless}) == 1);
  CHECK(sign_of(*product(x, x), {ExactInterval::of(-5, -1)}) == 1);
  CHECK(sign_of(*product(*product(x, x), x), {ExactInterval::of(-5, -1)}) == -1);
  CHECK(sign_of(*product(x, x), {ExactInterval::of(0, 1)}) == 0);
  CHECK(sign_of(Polynomial(), {}) == 0);
}

TEST_CASE("a divisor that may be nothing leaves the range open on both sides") {
  const std::vector<ExactInterval> box{ExactInterval::of(-5, 5)};
  const ExactInterval range = range_of(Polynomial::of_atom(0, -1), box);
  CHECK(range.contains(Rational(100)));
  CHECK(range.contains(Rational(-100)));
}

// Numbers that are no fractions, told apart exactly: multiples of pi, square roots, and what sines of eighths
// and twelfths of a turn are made of.
#include <algorithm>

#include "evaluate/algebra.hpp"

namespace mm {

namespace {

constexpr unsigned long most_factor = 100;  // tried
constexpr std::size_t most_bits = 512;

/// s and n with value = s s n; n has no square factor that was found.
struct Square {
  Rational root, rest;
};

Square taken_apart(const Rational& value) {
  const mpq_class given = value.gmp();
  mpz_class left = given.get_num() * given.get_den(), root = 1;
  if (mpz_sizeinbase(left.get_mpz_t(), 2) > most_bits) return {1, value};
  for (unsigned long factor = 2; factor < most_factor && left >= factor * factor; ++factor) {
    while (mpz_divisible_ui_p(left.get_mpz_t(), factor * factor) != 0) {
      left /= factor * factor;
      root *= factor;
    }
  }
  if (mpz_perfect_square_p(left.get_mpz_t()) != 0) {
    root *= sqrt(left);
    left = 1;
  }
  mpq_class whole_root(root, given.get_den());
  whole_root.canonicalize();
  return {Rational(whole_root), Rational(mpq_class(left))};
}

/// How many times pi to that power: of an end that was read as so many.
Rational times_pi(const Rational& end, const ExactInterval& pi, bool low) {
  return end / ((end.sign() >= 0) == low ? pi.lo_value : pi.hi_value);
}

}  // namespace

/// What was read in a unit that holds that power of pi, as a multiple of it: each end is a number of times
/// that of the power itself. Between two ends the multiple is an atom of its own.
std::optional<Polynomial> Algebra::of_pi(const ExactInterval& value, int power, const Key& key) {
  if (power == 0 || value.empty || value.lo_infinite || value.hi_infinite) return std::nullopt;
  const ExactInterval exactly = pi_exact(power);
  const Rational low = times_pi(value.lo_value, exactly, true),
                 high = times_pi(value.hi_value, exactly, false);
  const Form pi = atom({static_cast<std::uint64_t>(OpCode::number)}, {}, pi_exact());
  const Polynomial unit = Polynomial::of_atom(pi.number->terms()[0].powers[0].atom, power);
  if (low == high) return unit.scaled(low);
  Key its = key;
  its.push_back(static_cast<std::uint64_t>(OpCode::mul));
  return times(*atom(its, {}, ExactInterval::of(low, high)).number, unit);
}

Polynomial Algebra::root_of(const Rational& number) {
  const Square square = taken_apart(number);
  if (square.rest == 1) return square.root;
  const Interval range = to_interval(sqrt(ExactInterval::point(square.rest)));
  return function(OpCode::sqrt, square.rest, range).number->scaled(square.root);
}

/// sqrt(8 x x) is 2 sqrt(2) abs(x), and sqrt(8 x) is 2 sqrt(2 x).
std::optional<Polynomial> Algebra::root(const Op& op, const Polynomial& a) {
  if (a.terms().empty()) return a;
  const Rational factor = abs(a.leading());
  if (a.is_constant()) return a.leading().sign() > 0 ? std::optional(root_of(factor)) : std::nullopt;
  Monomial halves = a.terms()[0].powers;
  const bool even =
      std::all_of(halves.begin(), halves.end(), [](AtomPower one) { return one.power % 2 == 0; });
  if (a.terms().size() > 1 || a.leading().sign() < 0 || !even) {
    const Square square = taken_apart(factor);
    const Interval range = div(range_at(op.target), to_interval(ExactInterval::point(square.root)));
    return function(OpCode::sqrt, a.scaled(square.rest / factor), range).number->scaled(square.root);
  }
  for (AtomPower& one : halves) one.power /= 2;
  const Polynomial inner = Polynomial::of_monomial(std::move(halves));
  const Polynomial multiple = root_of(factor);
  const ExactInterval range = this->range(inner);
  if (!range.empty && !range.lo_infinite && range.lo_value.sign() >= 0) return times(inner, multiple);
  if (!range.empty && !range.hi_infinite && range.hi_value.sign() <= 0)
    return times(inner.scaled(-1), multiple);
  const ExactInterval scale = sqrt(ExactInterval::point(factor));
  return times(*function(OpCode::abs, inner, div(range_at(op.target), to_interval(scale))).number, multiple);
}

/// Of an angle in turns; none where it is no eighth or twelfth of one.
std::optional<Polynomial> Algebra::sine(const Rational& turns) {
  Rational angle = turns - floor(turns);
  const int sign = angle > Rational(1, 2) ? -1 : 1;
  if (sign < 0) angle -= Rational(1, 2);
  if (angle > Rational(1, 4)) angle = Rational(1, 2) - angle;
  if (angle == 0) return Polynomial();
  if (angle == Rational(1, 12)) return Polynomial(Rational(sign, 2));
  if (angle == Rational(1, 8)) return root_of(2).scaled(Rational(sign, 2));
  if (angle == Rational(1, 6)) return root_of(3).scaled(Rational(sign, 2));
  if (angle == Rational(1, 4)) return Polynomial(sign);
  return std::nullopt;
}

/// ln(12) is 2 ln(2) + ln(3).
std::optional<Polynomial> Algebra::logarithm(const Rational& number) {
  if (number.sign() <= 0) return std::nullopt;
  const auto of_whole = [&](mpz_class left) {
    std::optional<Polynomial> out = Polynomial();
    const auto add = [&](const Rational& of, int times) {
      const Interval range = to_interval(log(ExactInterval::point(of)));
      if (out) out = sum(*out, *function(OpCode::ln, of, range).number, times);
    };
    for (unsigned long factor = 2; factor < most_factor && left >= factor * factor; ++factor) {
      int times = 0;
      for (; mpz_divisible_ui_p(left.get_mpz_t(), factor) != 0; ++times) left /= factor;
      if (times > 0) add(factor, times);
    }
    if (left > 1) add(Rational(mpq_class(left)), 1);
    return out;
  };
  const mpq_class given = number.gmp();
  if (bits(number) > most_bits) return std::nullopt;
  const auto above = of_whole(given.get_num()), below = of_whole(given.get_den());
  return above && below ? sum(*above, *below, -1) : std::nullopt;
}

/// exp(3) is exp(1)^3.
std::optional<Polynomial> Algebra::exponential(const Rational& number) {
  if (!number.is_whole() || number == 0 || abs(number) > Polynomial::most_power) return std::nullopt;
  const Form base = function(OpCode::exp, Polynomial(1), to_interval(exp(ExactInterval::point(1))));
  const auto power = static_cast<int>(*whole_word(number));
  return Polynomial::of_atom(base.number->terms()[0].powers[0].atom, power);
}

/// A function of a number that is known.
std::optional<Polynomial> Algebra::known_function(const Op& op, const Rational& number) {
  if (range_at(op.target).is_point()) return Polynomial(exact(range_at(op.target).hi));
  const Rational quarter(1, 4);
  if (op.code == OpCode::ln) return logarithm(number);
  if (op.code == OpCode::exp) return exponential(number);
  if (op.code == OpCode::sin) return sine(number);
  if (op.code == OpCode::cos) return sine(number + quarter);
  if (op.code != OpCode::tan) return std::nullopt;
  const auto above = sine(number), below = sine(number + quarter);
  const auto inverted = above && below ? inverse(*below) : std::nullopt;
  return inverted ? times(*above, *inverted) : std::nullopt;
}

}  // namespace mm

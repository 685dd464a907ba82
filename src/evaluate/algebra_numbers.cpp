// Algebra of numbers. What a rule leaves alone is an atom, the same for the same operation of the same forms.
#include <algorithm>
#include <cmath>

#include "evaluate/algebra.hpp"

namespace mm {

namespace {

Interval bounds_of(const Rational& number) { return Interval::of(round_down(number), round_up(number)); }

}  // namespace

Form Algebra::function(OpCode code, const Polynomial& number, const Interval& range) {
  const Form inner = of(number);
  return atom({static_cast<std::uint64_t>(code), inner.id}, {code, inner.number, {}},
              ExactInterval::from(range));
}

Polynomial Algebra::without_shared(const Polynomial& number) const {
  Polynomial out = number;
  Monomial shared = number.common();
  for (const AtomPower& one : number.divisors())
    if (std::find(shared.begin(), shared.end(), one) == shared.end() && atoms_[one.atom].code != OpCode::div)
      shared.push_back(one);
  for (const AtomPower& one : shared) {
    const int its_sign = sign(Polynomial::of_atom(one.atom, one.power));
    const auto rest = product(out, Polynomial::of_atom(one.atom, -one.power));
    if (its_sign != 0 && rest) out = rest->scaled(its_sign);
  }
  return out;
}

std::optional<Polynomial> Algebra::times(const Polynomial& a, const Polynomial& b) {
  products_left_ -= static_cast<std::int64_t>(a.terms().size() * b.terms().size());
  if (products_left_ < 0) return std::nullopt;
  const std::optional<Polynomial> out = product(a, b);
  return out ? reduced(*out) : std::nullopt;
}

std::optional<Polynomial> Algebra::reduced(const Polynomial& a) {
  std::optional<Polynomial> out = Polynomial();
  for (const Term& term : a.terms()) {
    const auto one = reduced(term);
    if (out && one) out = sum(*out, *one, 1);
    if (!out || !one) return std::nullopt;
  }
  return out;
}

/// sqrt(x) sqrt(x) is x, abs(x) abs(x) is x x, 1 / sqrt(2) is sqrt(2) / 2, sqrt(2) sqrt(3) is sqrt(6), and
/// sin(x) sin(x) is 1 - cos(x) cos(x).
std::optional<Polynomial> Algebra::reduced(const Term& term) {
  const auto less = [&](std::size_t i, int power) {
    Polynomial out(term.factor);
    for (std::size_t j = 0; j < term.powers.size(); ++j) {
      const int left = term.powers[j].power - (j == i ? power : 0);
      if (left != 0) out = *product(out, Polynomial::of_atom(term.powers[j].atom, left));
    }
    return out;
  };
  std::optional<std::uint32_t> last_root;  // of a known number
  for (std::size_t i = 0; i < term.powers.size(); ++i) {
    const Atom atom = atoms_[term.powers[i].atom];  // more may be made meanwhile
    const int power = term.powers[i].power;
    if ((atom.code == OpCode::sqrt || atom.code == OpCode::abs) && power > 1) {
      const auto rest = times(less(i, 2), *atom.inner);
      return rest && atom.code == OpCode::abs ? times(*rest, *atom.inner) : rest;
    }
    if (atom.code == OpCode::sqrt && atom.inner->is_constant()) {
      if (power < 0) return times(less(i, -2), *inverse(*atom.inner));
      if (last_root) {
        const Polynomial both = root_of(atoms_[*last_root].inner->constant() * atom.inner->constant());
        const auto rest = product(less(i, 1), Polynomial::of_atom(*last_root, -1));
        return rest ? times(*rest, both) : std::nullopt;
      }
      last_root = term.powers[i].atom;
    }
    if (atom.code == OpCode::sin && power > 1) {
      const Polynomial cosine = *function(OpCode::cos, *atom.inner, Interval::of(-1, 1)).number;
      const auto square = times(cosine, cosine);
      const auto rest = square ? sum(Polynomial(1), *square, -1) : std::nullopt;
      return rest ? times(less(i, 2), *rest) : std::nullopt;
    }
    if (atom.code != OpCode::div) continue;
    if (power > 0) return times(less(i, 1), *atom.inner);
    if (const Term* greatest = greatest_in(term, term.powers[i].atom)) {  // so that equal sums have one form
      const auto out = parted(term, term.powers[i].atom, *greatest);
      return out ? reduced(*out) : std::nullopt;
    }
  }
  Polynomial out = Polynomial::of_monomial(term.powers);
  return out.scaled(term.factor);
}

/// a^b for a whole b.
std::optional<Polynomial> Algebra::power(const Polynomial& a, const Polynomial& b) {
  if (!b.is_constant() || abs(b.constant()) > Polynomial::most_power) return std::nullopt;
  const bool of_root = !b.constant().is_whole();  // as 2^(3/2), of a known number
  if (of_root && (!a.is_constant() || a.constant().sign() <= 0 || !(b.constant() * 2).is_whole()))
    return std::nullopt;
  const std::int64_t exponent = *whole_word(of_root ? b.constant() * 2 : b.constant());
  const Polynomial whole = of_root ? root_of(a.constant()) : a;
  const std::optional<Polynomial> base = exponent < 0 ? inverse(whole) : whole;
  if (!base) return std::nullopt;
  std::optional<Polynomial> out = Polynomial(1);
  for (std::int64_t i = 0; out && i < std::abs(exponent); ++i) out = times(*out, *base);
  return out;
}

std::optional<Polynomial> Algebra::quotient(const Op& op, const Polynomial& a, const Polynomial& b) {
  if (b.terms().empty()) return std::nullopt;
  if (const auto ratio = a.ratio_to(b)) return Polynomial(*ratio);
  if (const auto one = inverse(b)) return times(a, *one);
  // what all terms of the divisor share is a divisor of its own, and so is its last factor
  const Polynomial shared = Polynomial::of_monomial(b.common()).scaled(b.leading());
  const auto above = times(a, *inverse(shared)), below = times(b, *inverse(shared));
  if (!above || !below) return std::nullopt;
  if (const auto ratio = above->ratio_to(*below)) return Polynomial(*ratio);
  if (const auto one = inverse(*below)) return times(*above, *one);
  const Interval range =
      shared.is_constant() ? div(range_at(op.b), bounds_of(shared.constant())) : Interval::entire();
  const Form divisor = function(OpCode::div, *below, range);
  return times(*above, *inverse(*divisor.number));
}

std::optional<Polynomial> Algebra::size_of(const Op& op, const Polynomial& a) {
  const Interval range = range_at(op.a);
  if (range.lo() >= 0) return a;
  if (range.hi <= 0) return a.scaled(-1);
  if (a.is_constant()) return Polynomial(abs(a.constant()));
  const Rational factor = abs(a.leading());
  const Interval inner = div(range_at(op.target), bounds_of(factor));
  return function(OpCode::abs, a.scaled(Rational(1) / a.leading()), inner).number->scaled(factor);
}

/// min(a, b); and max(a, b), which is a + b less that.
std::optional<Polynomial> Algebra::lesser(const Op& op, const Polynomial& a, const Polynomial& b) {
  const bool least = op.code == OpCode::min;
  const Interval first = range_at(op.a), second = range_at(op.b);
  const Bits ordered = less_equal_bits(first, second);
  if (ordered == surely_yes) return least ? a : b;
  if (ordered == surely_no) return least ? b : a;
  const auto difference = sum(a, b, -1);
  if (difference) {
    const ExactInterval apart = range(*difference);
    if (!apart.empty && !apart.hi_infinite && apart.hi_value.sign() <= 0) return least ? a : b;
    if (!apart.empty && !apart.lo_infinite && apart.lo_value.sign() >= 0) return least ? b : a;
  }
  const std::uint64_t x = operand(op.a).id, y = operand(op.b).id;
  const Polynomial& both = *atom({static_cast<std::uint64_t>(OpCode::min), std::min(x, y), std::max(x, y)},
                                 {}, ExactInterval::from(min(first, second)))
                                .number;
  if (least) return both;
  const auto together = sum(a, b, 1);
  return together ? sum(*together, both, -1) : std::nullopt;
}

/// floor(x) is x less a part of 0 to 1; ceil(x) is -floor(-x); round(x) is x less one of -1/2 to 1/2.
std::optional<Polynomial> Algebra::rounded(const Op& op, const Polynomial& a) {
  const Interval range = range_at(op.target);
  if (range.is_point()) return Polynomial(exact(range.hi));
  if (op.code == OpCode::round)
    return sum(a, *function(OpCode::round, a, Interval::of(-0.5, 0.5)).number, -1);
  const bool up = op.code == OpCode::ceil;
  const Polynomial turned = up ? a.scaled(-1) : a;
  const auto shifted = sum(turned, Polynomial(floor(turned.constant())), -1);
  if (!shifted) return std::nullopt;
  const auto whole = sum(turned, *function(OpCode::floor, *shifted, Interval::of(0, 1)).number, -1);
  return whole && up ? whole->scaled(-1) : whole;
}

/// A function of one number; of what its reverse gave, what that was given.
std::optional<Polynomial> Algebra::undone(const Op& op, const Polynomial& a) {
  constexpr std::pair<OpCode, OpCode> pairs[] = {{OpCode::tan, OpCode::atan},
                                                 {OpCode::sin, OpCode::asin},
                                                 {OpCode::cos, OpCode::acos},
                                                 {OpCode::exp, OpCode::ln},
                                                 {OpCode::ln, OpCode::exp}};
  if (a.is_constant())
    if (const auto out = known_function(op, a.constant())) return out;
  const bool has_period = op.code == OpCode::sin || op.code == OpCode::cos || op.code == OpCode::tan;
  if (has_period && floor(a.constant()) != 0)
    if (const auto within_a_turn = sum(a, floor(a.constant()), -1)) return undone(op, *within_a_turn);
  if (op.code == OpCode::sqrt)
    if (const auto out = root(op, a)) return out;
  if (op.code == OpCode::asin || op.code == OpCode::acos || op.code == OpCode::atan)
    if (const auto out = angle(op.code, a)) return out;
  const std::vector<Term>& terms = a.terms();
  const bool alone = terms.size() == 1 && terms[0].factor == 1 && terms[0].powers.size() == 1 &&
                     terms[0].powers[0].power == 1;
  for (const auto& [outer, inner] : pairs) {
    if (alone && op.code == outer && atoms_[terms[0].powers[0].atom].code == inner)
      return *atoms_[terms[0].powers[0].atom].inner;
  }
  return *function(op.code, a, range_at(op.target)).number;
}

std::optional<Polynomial> Algebra::worked_out(const Op& op, const Polynomial& a, const Polynomial& b) {
  switch (op.code) {
    case OpCode::add:
      return sum(a, b, 1);
    case OpCode::sub:
      return sum(a, b, -1);
    case OpCode::neg:
      return a.scaled(-1);
    case OpCode::mul:
      return times(a, b);
    case OpCode::div:
      return quotient(op, a, b);
    case OpCode::pow:
      return power(a, b);
    case OpCode::abs:
      return size_of(op, a);
    case OpCode::min:
    case OpCode::max:
      return lesser(op, a, b);
    case OpCode::floor:
    case OpCode::ceil:
    case OpCode::round:
      return rounded(op, a);
    case OpCode::sqrt:
    case OpCode::sin:
    case OpCode::cos:
    case OpCode::tan:
    case OpCode::asin:
    case OpCode::acos:
    case OpCode::atan:
    case OpCode::exp:
    case OpCode::ln:
      return undone(op, a);
    default:
      return std::nullopt;
  }
}

Form Algebra::arithmetic(const Op& op) {
  static const Polynomial nothing;
  const Polynomial* a = operand(op.a).number;
  const Polynomial* b = op.b == no_reg ? &nothing : operand(op.b).number;
  if (a == nullptr || b == nullptr) return unlike_all(op);
  const std::optional<Polynomial> out = worked_out(op, *a, *b);
  return out ? of(*out) : same_of(op, 0);
}

}  // namespace mm

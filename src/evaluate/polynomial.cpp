#include "evaluate/polynomial.hpp"

#include <algorithm>
#include <cstdlib>

namespace mm {

namespace {

/// The product of two monomials; nullopt beyond the limits.
std::optional<Monomial> times(const Monomial& a, const Monomial& b) {
  Monomial out;
  auto x = a.begin(), y = b.begin();
  while (x != a.end() || y != b.end()) {
    if (y == b.end() || (x != a.end() && x->atom < y->atom)) {
      out.push_back(*x++);
    } else if (x == a.end() || y->atom < x->atom) {
      out.push_back(*y++);
    } else {
      const int power = x->power + y->power;
      if (std::abs(power) > Polynomial::most_power) return std::nullopt;
      if (power != 0) out.push_back({x->atom, power});
      ++x, ++y;
    }
  }
  if (out.size() > Polynomial::most_atoms) return std::nullopt;
  return out;
}

}  // namespace

Polynomial::Polynomial(const Rational& constant) {
  if (constant.sign() != 0) terms_.push_back({{}, constant});
}

Polynomial Polynomial::of_atom(std::uint32_t atom, int power) {
  Polynomial out;
  out.terms_.push_back({{{atom, power}}, 1});
  return out;
}

Polynomial Polynomial::of_monomial(Monomial powers) {
  Polynomial out;
  out.terms_.push_back({std::move(powers), 1});
  return out;
}

Rational Polynomial::constant() const {
  return !terms_.empty() && terms_[0].powers.empty() ? terms_[0].factor : Rational();
}

Polynomial Polynomial::without_constant() const {
  Polynomial out = *this;
  if (!terms_.empty() && terms_[0].powers.empty()) out.terms_.erase(out.terms_.begin());
  return out;
}

Polynomial Polynomial::scaled(const Rational& factor) const {
  if (factor.sign() == 0) return {};
  Polynomial out = *this;
  for (Term& term : out.terms_) term.factor *= factor;
  return out;
}

std::optional<Rational> Polynomial::ratio_to(const Polynomial& other) const {
  if (terms_.size() != other.terms_.size() || terms_.empty()) return std::nullopt;
  const Rational ratio = leading() / other.leading();
  for (std::size_t i = 0; i < terms_.size(); ++i) {
    if (terms_[i].powers != other.terms_[i].powers || terms_[i].factor != other.terms_[i].factor * ratio)
      return std::nullopt;
  }
  return ratio;
}

Monomial Polynomial::common() const {
  Monomial out = terms_.empty() ? Monomial() : terms_[0].powers;
  for (const Term& term : terms_) {
    for (AtomPower& one : out) {
      const auto at = std::find_if(term.powers.begin(), term.powers.end(),
                                   [&](const AtomPower& other) { return other.atom == one.atom; });
      one.power = at == term.powers.end() ? 0 : std::min(one.power, at->power);
    }
    std::erase_if(out, [](const AtomPower& one) { return one.power == 0; });
  }
  return out;
}

Polynomial Polynomial::derivative(std::uint32_t atom) const {
  std::map<Monomial, Rational> terms;
  for (const Term& term : terms_) {
    Monomial powers = term.powers;
    const auto at =
        std::find_if(powers.begin(), powers.end(), [&](const AtomPower& one) { return one.atom == atom; });
    if (at == powers.end()) continue;
    const Rational factor = term.factor * at->power;
    if (--at->power == 0) powers.erase(at);
    terms[std::move(powers)] += factor;
  }
  return from(std::move(terms));
}

Polynomial Polynomial::from(std::map<Monomial, Rational>&& terms) {
  Polynomial out;
  for (auto& [powers, factor] : terms) {
    if (factor.sign() != 0) out.terms_.push_back({powers, std::move(factor)});
  }
  return out;
}

std::optional<Polynomial> sum(const Polynomial& a, const Polynomial& b, const Rational& factor_of_b) {
  Polynomial out;
  auto x = a.terms_.begin(), y = b.terms_.begin();
  while (x != a.terms_.end() || y != b.terms_.end()) {
    if (y == b.terms_.end() || (x != a.terms_.end() && x->powers < y->powers)) {
      out.terms_.push_back(*x++);
    } else if (x == a.terms_.end() || y->powers < x->powers) {
      out.terms_.push_back({y->powers, y->factor * factor_of_b});
      ++y;
    } else {
      Rational factor = x->factor + y->factor * factor_of_b;
      if (bits(factor) > Polynomial::most_digits) return std::nullopt;
      if (factor.sign() != 0) out.terms_.push_back({x->powers, std::move(factor)});
      ++x, ++y;
    }
  }
  if (out.terms_.size() > Polynomial::most_terms) return std::nullopt;
  return out;
}

std::optional<Polynomial> product(const Polynomial& a, const Polynomial& b) {
  std::map<Monomial, Rational> terms;
  for (const Term& x : a.terms_) {
    for (const Term& y : b.terms_) {
      std::optional<Monomial> powers = times(x.powers, y.powers);
      if (!powers) return std::nullopt;
      Rational& factor = terms[std::move(*powers)];
      factor += x.factor * y.factor;
      if (bits(factor) > Polynomial::most_digits) return std::nullopt;
    }
  }
  Polynomial out = Polynomial::from(std::move(terms));
  if (out.terms_.size() > Polynomial::most_terms) return std::nullopt;
  return out;
}

std::optional<Polynomial> inverse(const Polynomial& a) {
  if (a.terms_.size() != 1) return std::nullopt;
  Polynomial out = a;
  out.terms_[0].factor = Rational(1) / out.terms_[0].factor;
  for (AtomPower& one : out.terms_[0].powers) one.power = -one.power;
  return out;
}

namespace {

ExactInterval plain_range(const Polynomial& form, const std::vector<ExactInterval>& of_atoms) {
  ExactInterval out = ExactInterval::point(0);
  for (const Term& term : form.terms()) {
    ExactInterval one = ExactInterval::point(term.factor);
    for (const AtomPower& power : term.powers) one = mul(one, pown(of_atoms[power.atom], power.power));
    out = add(out, one);
  }
  return out;
}

/// It is a divisor and may be nothing: there the form leaps, whatever its slope.
bool leaps(const Polynomial& form, std::uint32_t atom, const ExactInterval& range) {
  if (range.lo_value.sign() > 0 || range.hi_value.sign() < 0) return false;
  return std::any_of(form.terms().begin(), form.terms().end(), [&](const Term& term) {
    return std::any_of(term.powers.begin(), term.powers.end(),
                       [&](const AtomPower& one) { return one.atom == atom && one.power < 0; });
  });
}

/// Where in its range an atom makes the form least, or most, if that holds it only by itself and squared, as
/// x x + 3 x + y.
std::optional<Rational> turning(const Polynomial& form, std::uint32_t atom, const ExactInterval& range,
                                bool least) {
  Rational square, line;
  for (const Term& term : form.terms()) {
    const auto at = std::find_if(term.powers.begin(), term.powers.end(),
                                 [&](const AtomPower& one) { return one.atom == atom; });
    if (at == term.powers.end()) continue;
    if (term.powers.size() > 1 || (at->power != 1 && at->power != 2)) return std::nullopt;
    (at->power == 2 ? square : line) = term.factor;
  }
  if (square.sign() == 0) return std::nullopt;
  const Rational middle = -line / (square * 2);
  if ((square.sign() > 0) == least) {
    if (!range.lo_infinite && middle < range.lo_value) return range.lo_value;
    if (!range.hi_infinite && middle > range.hi_value) return range.hi_value;
    return middle;
  }
  if (range.lo_infinite || range.hi_infinite) return std::nullopt;
  return middle - range.lo_value >= range.hi_value - middle ? range.lo_value : range.hi_value;
}

/// The atoms at the ends where the form is least, or most, as far as slopes tell; what stands at an end makes
/// other slopes plainer.
ExactInterval extreme(const Polynomial& form, std::vector<ExactInterval> atoms, bool least) {
  for (bool moved = true; moved;) {
    moved = false;
    for (std::uint32_t atom = 0; atom < atoms.size(); ++atom) {
      const ExactInterval range = atoms[atom];
      if (range.empty || range.is_point()) continue;
      if (const auto spot = turning(form, atom, range, least)) {
        atoms[atom] = ExactInterval::point(*spot);
        moved = true;
        continue;
      }
      if (range.lo_infinite || range.hi_infinite || leaps(form, atom, range)) continue;
      const Polynomial slope = form.derivative(atom);
      if (slope.terms().empty()) continue;
      const ExactInterval moves = plain_range(slope, atoms);
      if (moves.empty) continue;
      const bool rises = !moves.lo_infinite && moves.lo_value.sign() >= 0;
      if (!rises && (moves.hi_infinite || moves.hi_value.sign() > 0)) continue;
      atoms[atom] = ExactInterval::point(rises == least ? range.lo_value : range.hi_value);
      moved = true;
    }
  }
  return plain_range(form, atoms);
}

}  // namespace

ExactInterval range_of(const Polynomial& form, const std::vector<ExactInterval>& of_atoms) {
  const ExactInterval low = extreme(form, of_atoms, true), high = extreme(form, of_atoms, false);
  if (low.empty || high.empty) return ExactInterval::entire();
  ExactInterval out = low;
  out.hi_value = high.hi_value;
  out.hi_infinite = high.hi_infinite;
  return out;
}

int sign_of(const Polynomial& form, const std::vector<ExactInterval>& of_atoms) {
  int all = 0;
  for (const Term& term : form.terms()) {
    int one = term.factor.sign();
    for (const AtomPower& power : term.powers) {
      const ExactInterval& range = of_atoms[power.atom];
      const int end = power.power < 0 ? 0 : 1;  // a divisor is not zero
      const bool above = !range.empty && !range.lo_infinite && range.lo_value.sign() >= end;
      const bool below = !range.empty && !range.hi_infinite && range.hi_value.sign() <= -end;
      if (!above && !below) return 0;
      if (below && power.power % 2 != 0) one = -one;
    }
    if (all == -one) return 0;
    all = one;
  }
  return all;
}

}  // namespace mm

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

Monomial Polynomial::divisors() const {
  std::map<std::uint32_t, int> least;
  for (const Term& term : terms_)
    for (const AtomPower& one : term.powers)
      if (one.power < 0) least[one.atom] = std::min(least[one.atom], one.power);
  Monomial out;
  for (const auto& [atom, power] : least) out.push_back({atom, power});
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

std::optional<Polynomial> Polynomial::at(std::uint32_t atom, const Rational& value) const {
  std::map<Monomial, Rational> terms;
  for (const Term& term : terms_) {
    Monomial powers = term.powers;
    Rational factor = term.factor;
    const auto its =
        std::find_if(powers.begin(), powers.end(), [&](const AtomPower& one) { return one.atom == atom; });
    if (its != powers.end()) {
      if (its->power < 0 && value.sign() == 0) return std::nullopt;
      for (int i = 0; i < std::abs(its->power); ++i)
        factor = its->power < 0 ? factor / value : factor * value;
      powers.erase(its);
      if (bits(factor) > most_digits) return std::nullopt;
    }
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

}  // namespace mm

// Divisors of several terms: a quotient by one may be said by any of its products.
#include <algorithm>
#include <map>

#include "evaluate/algebra.hpp"

namespace mm {

namespace {

int degree(const Monomial& a) {
  int out = 0;
  for (const AtomPower& one : a) out += one.power;
  return out;
}

/// An order that products keep: by degree, then by the power of the first atom in which they differ.
bool graded_less(const Monomial& a, const Monomial& b) {
  if (degree(a) != degree(b)) return degree(a) < degree(b);
  for (std::size_t i = 0; i < std::min(a.size(), b.size()); ++i) {
    if (a[i] == b[i]) continue;
    return a[i].atom != b[i].atom ? a[i].atom > b[i].atom : a[i].power < b[i].power;
  }
  return false;
}

/// All powers being above zero: b holds each of a.
bool divides(const Monomial& a, const Monomial& b) {
  return !a.empty() && std::all_of(a.begin(), a.end(), [&](const AtomPower& one) {
    return std::any_of(b.begin(), b.end(), [&](const AtomPower& other) {
      return other.atom == one.atom && other.power >= one.power;
    });
  });
}

}  // namespace

/// The greatest product of a divisor, where the term holds it: x of x / (x + y).
const Term* Algebra::greatest_in(const Term& term, std::uint32_t divisor) const {
  const std::vector<Term>& terms = atoms_[divisor].inner->terms();
  const auto is_divisor = [](const AtomPower& one) { return one.power < 0; };
  for (const Term& one : terms)
    if (std::any_of(one.powers.begin(), one.powers.end(), is_divisor)) return nullptr;
  const auto greatest = std::max_element(terms.begin(), terms.end(), [](const Term& a, const Term& b) {
    return graded_less(a.powers, b.powers);
  });
  return divides(greatest->powers, term.powers) ? &*greatest : nullptr;
}

/// A term that holds one of the divisor's products, without that one: of x / (x + y) and x, 1 - y / (x + y).
std::optional<Polynomial> Algebra::parted(const Term& term, std::uint32_t divisor, const Term& one) {
  const Polynomial taken = Polynomial::of_monomial(one.powers).scaled(one.factor);
  const auto rest = product(Polynomial::of_monomial(term.powers).scaled(term.factor), *inverse(taken));
  const auto whole = rest ? product(*rest, Polynomial::of_atom(divisor)) : std::nullopt;
  const auto others = sum(*atoms_[divisor].inner, taken, -1);
  const auto other = rest && others ? product(*rest, *others) : std::nullopt;
  return whole && other ? sum(*whole, *other, -1) : std::nullopt;
}

std::optional<Algebra::Cleared> Algebra::cleared(const Polynomial& number) {
  std::map<std::uint32_t, int> least;  // power, by divisor
  for (const Term& term : number.terms())
    for (const AtomPower& one : term.powers)
      if (atoms_[one.atom].code == OpCode::div && one.power < 0)
        least[one.atom] = std::min(least[one.atom], one.power);
  if (least.empty()) return std::nullopt;
  Monomial multiplied, by;
  for (const auto& [divisor, power] : least) {
    multiplied.push_back({divisor, -power});
    by.push_back({divisor, power});
  }
  const auto whole = times(number, Polynomial::of_monomial(std::move(multiplied)));
  return whole ? std::optional(Cleared{*whole, Polynomial::of_monomial(std::move(by))}) : std::nullopt;
}

/// The same number, said by another product of one of its divisors: y / (x + y) for 1 - x / (x + y).
std::vector<Polynomial> Algebra::said_otherwise(const Polynomial& number) {
  constexpr std::size_t most = 4;
  std::vector<Polynomial> out;
  for (std::uint32_t divisor = 0; divisor < atoms_.size(); ++divisor) {
    if (atoms_[divisor].code != OpCode::div) continue;
    for (const Term& one : atoms_[divisor].inner->terms()) {
      bool changed = false;
      std::optional<Polynomial> sum_of = Polynomial();
      for (const Term& term : number.terms()) {
        const bool divided = std::any_of(term.powers.begin(), term.powers.end(), [&](const AtomPower& power) {
          return power.atom == divisor && power.power < 0;
        });
        const bool parts = divided && divides(one.powers, term.powers);
        changed = changed || parts;
        const auto next = parts ? parted(term, divisor, one)
                                : std::optional(Polynomial::of_monomial(term.powers).scaled(term.factor));
        sum_of = sum_of && next ? sum(*sum_of, *next, 1) : std::nullopt;
      }
      if (changed && sum_of && out.size() < most) out.push_back(*std::move(sum_of));
    }
  }
  return out;
}

}  // namespace mm

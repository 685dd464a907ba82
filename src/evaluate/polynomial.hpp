// Sums of products in one written form: what is the same number whatever its atoms are has the same form.
#pragma once
#include <compare>
#include <functional>
#include <map>
#include <optional>
#include <vector>

#include "interval/exact_interval.hpp"

namespace mm {

/// An atom to a power that is not zero.
struct AtomPower {
  std::uint32_t atom = 0;
  int power = 1;
  auto operator<=>(const AtomPower&) const = default;
};

/// Ascending by atom, each once; of none: one.
using Monomial = std::vector<AtomPower>;

struct Term {
  Monomial powers;
  Rational factor;
  friend bool operator==(const Term&, const Term&) = default;
  friend std::strong_ordering operator<=>(const Term& a, const Term& b) {
    if (const auto order = a.powers <=> b.powers; order != 0) return order;
    return a.factor <=> b.factor;
  }
};

/// Terms ascend by their powers, no factor is zero. Powers may be negative: an equality of two forms then
/// holds where both are defined. What would pass `most_terms`, `most_power` or `most_digits` is not made.
class Polynomial {
 public:
  static constexpr std::size_t most_terms = 48, most_atoms = 12, most_digits = 2048;
  static constexpr int most_power = 64;

  Polynomial() = default;
  Polynomial(const Rational& constant);
  static Polynomial of_atom(std::uint32_t atom, int power = 1);
  static Polynomial of_monomial(Monomial powers);

  const std::vector<Term>& terms() const { return terms_; }
  bool is_constant() const { return terms_.empty() || (terms_.size() == 1 && terms_[0].powers.empty()); }
  /// The term without atoms.
  Rational constant() const;
  Polynomial without_constant() const;
  /// Of the last term; 0 of nothing.
  Rational leading() const { return terms_.empty() ? Rational() : terms_.back().factor; }
  Polynomial scaled(const Rational& factor) const;
  /// `this / other` where that is one number, as of 2 x and x.
  std::optional<Rational> ratio_to(const Polynomial& other) const;

  /// The greatest monomial that divides every term.
  Monomial common() const;
  /// Every atom with a negative power, to the least one it has: times its inverse nothing is divided.
  Monomial divisors() const;
  /// With one atom at that value; none where it divides and is nothing there.
  std::optional<Polynomial> at(std::uint32_t atom, const Rational& value) const;
  /// The slope in one atom.
  Polynomial derivative(std::uint32_t atom) const;

  friend std::optional<Polynomial> sum(const Polynomial& a, const Polynomial& b, const Rational& factor_of_b);
  friend std::optional<Polynomial> product(const Polynomial& a, const Polynomial& b);
  /// 1 / a, of one term.
  friend std::optional<Polynomial> inverse(const Polynomial& a);
  friend bool operator==(const Polynomial&, const Polynomial&) = default;
  friend std::strong_ordering operator<=>(const Polynomial& a, const Polynomial& b) {
    return a.terms_ <=> b.terms_;
  }

 private:
  static Polynomial from(std::map<Monomial, Rational>&& terms);

  std::vector<Term> terms_;
};

/// What the form may be while each atom, independently, is anywhere in its range; by slopes where they have
/// one sign.
ExactInterval range_of(const Polynomial& form, const std::vector<ExactInterval>& of_atoms);

/// 1 or -1 where the form has that sign whatever its atoms are in their ranges, as 1 / x of any x above
/// zero; else 0. `never_zero`: of an atom, beside those that divide.
int sign_of(const Polynomial& form, const std::vector<ExactInterval>& of_atoms,
            const std::function<bool(std::uint32_t)>& never_zero = nullptr);

}  // namespace mm

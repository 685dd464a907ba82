// A claim's numbers as polynomials in its open values, exactly and for every value of them: what interval
// arithmetic forgets, that two mentions of one value are the same value, is plain there.
#pragma once
#include <map>

#include "evaluate/claim.hpp"
#include "evaluate/polynomial.hpp"

namespace mm {

/// What a register holds, as far as it can be told apart: two of the same form have the same value wherever
/// both are defined.
struct Form {
  std::uint32_t id = 0;                // of its own for what nothing is known of
  const Polynomial* number = nullptr;  // null for what is not a number
};

/// a < b, a <= b or a = b, from the sign of b - a.
inline Bits answer_of(OpCode code, int sign) {
  return truth_bits(code == OpCode::eq ? sign == 0 : code == OpCode::lt ? sign > 0 : sign >= 0);
}

/// Of one claim, over the box as it stood when the claim was taken up, and over every part of it.
class Algebra {
 public:
  explicit Algebra(Bench& bench) : bench_(&bench) {}

  /// Finds the forms of everything outside of quantifiers.
  void take(const Claim& claim);
  /// Of a register that the part's block sets.
  Form form(std::size_t part, Reg reg) const { return forms_[part][reg]; }
  Form of(Polynomial number);
  /// The open value that an atom stands for; none for others.
  CellId cell(std::uint32_t atom) const { return atoms_[atom].cell; }
  /// What a divisor of several terms comes to; null for other atoms.
  const Polynomial* divisor(std::uint32_t atom) const {
    return atoms_[atom].code == OpCode::div ? atoms_[atom].inner : nullptr;
  }
  /// From here on, until the box is entered again: what an atom may be.
  void narrow(std::uint32_t atom, const ExactInterval& range) { ranges_[atom] = range; }
  const ExactInterval& range(std::uint32_t atom) const { return ranges_[atom]; }
  /// The box has changed since; it is a part of that one.
  void enter_box();
  /// What a number of this form may be there.
  ExactInterval range(const Polynomial& number) const { return range_of(number, ranges_); }
  /// Of the same sign everywhere there: without factors of all its terms whose own sign is known.
  Polynomial without_shared(const Polynomial& number) const;
  /// The number times its divisors of several terms, and one over these: 1 - 2 (x + 3) and 1 / (x + 3) of
  /// 1 / (x + 3) - 2.
  struct Cleared {
    Polynomial number, by;
  };
  std::optional<Cleared> cleared(const Polynomial& number);
  /// Other forms of it, of which a range may tell more.
  std::vector<Polynomial> said_otherwise(const Polynomial& number);
  /// 1 or -1 where it has that sign there, else 0.
  int sign(const Polynomial& number) const {
    return sign_of(number, ranges_, [&](std::uint32_t atom) { return atoms_[atom].code == OpCode::exp; });
  }

 private:
  using Key = std::vector<std::uint64_t>;
  struct Atom {
    OpCode code = OpCode::number;
    const Polynomial* inner = nullptr;  // of a function of one number, and of a divisor
    CellId cell;                        // of an open value
  };
  /// Of a quantifier: whether it is there, and what is asked of it.
  struct Item {
    Form where;
    Bits there = surely_yes;
    Form body;
    std::uint32_t sheet = no_reg;  // where each sheet is taken once
  };

  Form form_of(const Op& op, const Program& program);
  Form look_up(const Op& op, const Lookup& lookup);
  std::vector<Item> items_of(const Quantifier& q, const Program& program);
  Form over_items(const Op& op, const Program& program);
  void take(const Op& op, const Program& program);
  Form arithmetic(const Op& op);
  std::optional<Polynomial> worked_out(const Op& op, const Polynomial& a, const Polynomial& b);
  std::optional<Polynomial> power(const Polynomial& a, const Polynomial& b);
  std::optional<Polynomial> quotient(const Op& op, const Polynomial& a, const Polynomial& b);
  std::optional<Polynomial> size_of(const Op& op, const Polynomial& a);
  std::optional<Polynomial> lesser(const Op& op, const Polynomial& a, const Polynomial& b);
  std::optional<Polynomial> undone(const Op& op, const Polynomial& a);
  std::optional<Polynomial> root(const Op& op, const Polynomial& a);
  Polynomial root_of(const Rational& number);
  std::optional<Polynomial> logarithm(const Rational& number);
  std::optional<Polynomial> exponential(const Rational& number);
  std::optional<Polynomial> sine(const Rational& turns);
  std::optional<Polynomial> folded(const Polynomial& x) const;
  std::optional<Polynomial> known_angle(bool of_tangent, const Polynomial& a);
  std::optional<Polynomial> angle(OpCode code, const Polynomial& a);
  std::optional<Polynomial> known_function(const Op& op, const Rational& number);
  std::optional<Polynomial> of_pi(const ExactInterval& value, int power, const Key& key);
  int pi_power_of(CellId cell) const;
  std::optional<Polynomial> rounded(const Op& op, const Polynomial& a);
  /// The same operation of the same forms.
  Form same_of(const Op& op, std::uint64_t payload);
  Form keyed(const Key& key);
  Form opaque(const Key& key, Reg reg);
  Form unlike_all(const Op& op);
  Bits truth_of(const Op& op) const;
  Form atom(const Key& key, const Atom& atom, const ExactInterval& range);
  Form function(OpCode code, const Polynomial& of, const Interval& range);
  Interval range_at(Reg reg) const;
  std::optional<Polynomial> times(const Polynomial& a, const Polynomial& b);
  std::optional<Polynomial> reduced(const Polynomial& a);
  std::optional<Polynomial> reduced(const Term& term);
  std::optional<Polynomial> parted(const Term& term, std::uint32_t divisor, const Term& one);
  const Term* greatest_in(const Term& term, std::uint32_t divisor) const;
  Key key(const Op& op, std::uint64_t payload) const;
  Form operand(Reg reg) const { return (*part_)[reg]; }

  Bench* bench_;
  std::vector<Form> forms_[3];  // by part, then register
  std::vector<Form>* part_ = nullptr;
  std::size_t program_ = 0;                      // the first part with the present one
  std::map<Polynomial, std::uint32_t> numbers_;  // addresses stay
  std::map<Key, std::uint32_t> keys_;
  std::vector<Atom> atoms_;
  std::vector<ExactInterval> ranges_;  // by atom
  std::vector<Bits> truths_;           // by register of the present part
  EntityId item_;                      // of the present quantifier
  std::uint32_t next_ = 1;
  std::int64_t products_left_ = 0;
};

}  // namespace mm

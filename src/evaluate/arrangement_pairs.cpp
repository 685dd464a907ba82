// Two comparisons that have no form in common may bind each other all the same: of x >= y + 3 and x <= z the
// sum says z >= y + 3, which may be nowhere in their ranges. So what one answer says, that a form is nothing
// or more, is added to what another says, as many times as takes a product away from both (one step of
// Fourier's and Motzkin's elimination, from memory).
#include <algorithm>

#include "evaluate/arrangement.hpp"

namespace mm {

namespace {

constexpr std::size_t most_leaves = 10;
constexpr int most_sums = 8;  // tried of two answers

/// a / b, where that is a product; none where b does not divide it.
std::optional<Monomial> ratio(const Monomial& a, const Monomial& b) {
  const auto one = inverse(Polynomial::of_monomial(b));
  const auto out = one ? product(Polynomial::of_monomial(a), *one) : std::nullopt;
  if (!out || out->terms().size() != 1) return std::nullopt;
  const Monomial& powers = out->terms()[0].powers;
  const bool whole =
      std::all_of(powers.begin(), powers.end(), [](const AtomPower& power) { return power.power > 0; });
  return whole ? std::optional(powers) : std::nullopt;
}

}  // namespace

/// The forms that are nothing or more where the leaf gives that answer.
std::vector<Arrangement::AtLeast> Arrangement::told_by(std::size_t leaf, Bits answer) const {
  const auto& [code, form, otherwise, cleared] = *slacks_[leaf];
  const bool yes = answer == surely_yes;
  if (code == OpCode::eq) {
    if (!yes) return {};
    return {{form, false}, {form.scaled(-1), false}};
  }
  return {{yes ? form : form.scaled(-1), yes == (code == OpCode::lt)}};
}

/// A sum of the two that is below nothing everywhere.
bool Arrangement::exclude(const AtLeast& a, const AtLeast& b) {
  int sums = 0;
  for (const Term& x : a.form.terms()) {
    for (const Term& y : b.form.terms()) {
      if (x.powers.empty() || y.powers.empty()) continue;
      const auto more = ratio(x.powers, y.powers);
      if (!more) continue;
      const Polynomial times = Polynomial::of_monomial(*more).scaled(-x.factor / y.factor);
      if (algebra_.sign(times) <= 0 || ++sums > most_sums) continue;
      const auto added = product(b.form, times);
      const auto both = added ? sum(a.form, *added, 1) : std::nullopt;
      if (!both) continue;
      bench_->fast.limits.steps -= static_cast<std::int64_t>(both->terms().size()) * exact_cost;
      const ExactInterval range = algebra_.range(*both);
      if (range.empty || range.hi_infinite) continue;
      if (range.hi_value.sign() < (a.strictly || b.strictly ? 1 : 0)) return true;
    }
  }
  return false;
}

bool Arrangement::pair_up(const std::vector<Leaf>& leaves) {
  pairs_.clear();
  std::vector<std::size_t> open;
  for (std::size_t i = 0; i < leaves.size() && i < slacks_.size(); ++i)
    if (slacks_[i] && leaves[i].bits == undecided && !slacks_[i]->form.is_constant()) open.push_back(i);
  if (open.size() > most_leaves) open.resize(most_leaves);
  for (const std::size_t i : open) {
    for (const std::size_t j : open) {
      if (i >= j) continue;
      for (const Bits answer : {surely_yes, surely_no}) {
        for (const Bits other : {surely_yes, surely_no}) {
          const auto first = told_by(i, answer), second = told_by(j, other);
          const bool out = std::any_of(first.begin(), first.end(), [&](const AtLeast& a) {
            return std::any_of(second.begin(), second.end(),
                               [&](const AtLeast& b) { return exclude(a, b) || exclude(b, a); });
          });
          if (out && !bench_->spent()) pairs_.push_back({i, j, answer, other});
        }
      }
    }
  }
  binds_ = binds_ || !pairs_.empty();
  return !pairs_.empty();
}

/// No two answers exclude each other.
bool Arrangement::go_together(const std::vector<Bits>& bits) const {
  return std::none_of(pairs_.begin(), pairs_.end(), [&](const Pair& pair) {
    return bits[pair.leaf] == pair.answer && bits[pair.other] == pair.its_answer;
  });
}

}  // namespace mm

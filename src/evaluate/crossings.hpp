// Worlds at the very value where a comparison, a table's condition, a divisor or a rounding turns over: they
// have no width, so that no worlds drawn at random and no middles meet them.
#pragma once
#include <functional>

#include "evaluate/variables.hpp"

namespace mm {

class Crossings {
 public:
  Crossings(Bench& bench, const Claim& claim, const Variables& variables);

  /// Puts the box at one such world after another; `at_world` says whether to go on. Each is found from
  /// worlds that are drawn, by moving one value to where the difference of two sides is nothing: exactly
  /// where the difference is a linear function of it, a quotient of two, or a square with rational zeros.
  /// And next to it, on both sides. Then another, which leaves that difference at nothing, for a second one,
  /// and a third; and one value where another is near there. The box stays at the last one.
  void each(const std::function<bool()>& at_world);
  /// From the world where the box stands alone, which it comes back to; false where `at_world` ended it.
  bool each_from_here(const std::function<bool()>& at_world);

  /// Puts one value of a world between two, where a difference that moves without a jump is below nothing at
  /// one and above it at the other: somewhere between it is nothing, at no fraction perhaps. `at_root` gets
  /// that value and what comparisons and questions to tables answer there, and says whether to go on.
  using AtRoot = std::function<bool(CellId, const Answers&)>;
  void each_root(const AtRoot& at_root);

 private:
  /// Where a difference is worked out: in a part's own block, or in one of a quantifier's for one item.
  struct Place {
    std::size_t part = 0;
    BlockIndex block = no_block;
    const Quantifier* over = nullptr;
    EntityId item;
  };
  /// A difference: left - sign * right - at.
  struct Side {
    Place place;
    Reg left = no_reg, right = no_reg;
    int sign = 1;
    Rational at;
    bool asked = false;  // by a comparison or a question to a table, outside of quantifiers
  };

  void find_sides();
  void find_sides(const Place& place);
  void find_sides(const Place& place, const Op& op, const std::vector<Reg>& inside_of);
  void add_items(const Place& outer, const Op& op);
  void add_table(const Place& place, const Op& op);
  void add_whole_numbers(const Place& place, Reg operand);
  ExactInterval difference_range(const Side& side);
  std::optional<Rational> difference(const Side& side);
  std::optional<int> sign_at(const Side& side, std::size_t variable, const Rational& value);
  std::optional<Rational> crossing(const Side& side, std::size_t variable, const Rational (&values)[3]);
  std::optional<Rational> crossing_near(const Side& side, std::size_t variable);
  double apart(const Side& side);
  bool cross(const Side& side, std::size_t more, const std::function<bool()>& at_world);
  bool approach(const Side& side, const std::function<bool()>& at_world);
  bool go_near(const Side& side, std::size_t variable);
  struct Turn {
    Rational from, to;
  };
  /// Values next to each other at which the difference has different signs, the first towards where the
  /// variable is; none where that is not seen.
  std::optional<Turn> find_turn(const Side& side, std::size_t variable);
  bool jumps(const Side& side, std::size_t variable);
  Answers answers_at_root(const Side& side);
  bool go_beside(std::size_t variable, const Rational& turn, const std::function<bool()>& at_world);
  bool still_met();
  void place(std::size_t manner);
  bool may_go_on() const { return bench_->sharp.limits.steps > stop_ && !bench_->spent(); }

  Bench* bench_;
  const Claim* claim_;
  const Variables* variables_;
  std::vector<ExactInterval> ranges_;  // by variable, as the box stood
  std::vector<Side> sides_;
  std::vector<const Side*> met_;     // at nothing, by values that were moved
  std::optional<Rational> between_;  // where the last difference was at nothing, between two whole numbers
  Claim::Part parts_[3];
  std::size_t part_count_ = 0;
  std::int64_t stop_ = 0;  // of the exact machine's steps
  std::uint64_t state_ = 0;
};

}  // namespace mm

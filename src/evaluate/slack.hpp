// A test seen as slacks: numbers that must all be >= 0 (or > 0). `a <= b` has the slack b - a, `a within t of
// b` the two slacks t - (a - b) and t + (a - b), `a = b` the two slacks b - a and a - b.
#pragma once
#include <span>

#include "evaluate/variables.hpp"

namespace mm {

struct Slack {
  Reg truth = no_reg;  // of the comparison that it is taken from
  Reg upper = no_reg, lower = no_reg;
  int sign = 1;         // slack = upper - sign * lower
  bool strict = false;  // 0 fails
  bool equality = false;
  std::vector<Direction> moves;   // by variable, over the present box
  std::vector<bool> never_flat;   // by variable: it rises, or falls, everywhere there
  std::vector<double> influence;  // by variable: slope times width
};

class Slacks {
 public:
  /// Reads the requirement's test.
  void take(Bench& bench, const Claim& claim, const Variables& variables);
  /// Of comparisons of numbers anywhere in a part of a claim, however they are joined.
  void take_these(Bench& bench, const Claim::Part& part, const Binding& binding, const Variables& variables,
                  std::span<const Op* const> comparisons);
  /// It is made of numeric comparisons joined by `and`.
  bool all_of_test() const { return all_of_test_; }
  const std::vector<Slack>& list() const { return list_; }
  /// The comparisons that are not numeric all surely hold over the box (as of `take`).
  bool rest_holds() const { return rest_holds_; }
  bool has_equality() const;
  /// Each moves one way, if at all, with each value.
  bool are_monotone() const;

  /// Least to greatest slack over the present box, by plain arithmetic.
  Interval range(Bench& bench, const Slack& slack) const;
  ExactInterval exact_range(Bench& bench, const Slack& slack) const;
  /// As `range`, without an end that is only the rounding of what is compared: for telling.
  Interval told_range(Bench& bench, const Slack& slack) const;
  /// The slack surely rises, or falls, all along the value over the present box.
  bool is_never_flat(Bench& bench, const Slack& slack, CellId cell) const;
  /// A bound on the least of all slacks: one value between two limits is never further from the nearer one
  /// than half of what lies between them.
  double most_of_least(Bench& bench) const;
  /// Puts every monotone variable but `except` at its end of least (or most) slack; false where that end is
  /// endless or a variable that matters has no certain direction.
  bool to_corner(Bench& bench, const Slack& slack, bool least, std::size_t except) const;

 private:
  void start(const Claim::Part& part, const Binding& binding, const Variables& variables);
  void add(const Op& comparison, const std::vector<const Op*>& makers);
  template <class Num>
  void run(Machine<Num>& machine, const Bench& bench) const;
  void find_slopes(Bench& bench);
  struct Slope {
    Interval range;
    bool known = false;  // else it may be undefined somewhere, or the steps were spent
    bool never_flat() const { return known && (range.lo() > 0 || range.hi < 0); }
  };
  void run_slopes(Bench& bench, const Variable& variable) const;
  Slope slope(Bench& bench, const Slack& slack) const;
  struct Sides {
    Interval upper, lower;
  };
  std::optional<Sides> sides(Bench& bench, const Slack& slack) const;

  const Binding* binding_ = nullptr;
  Claim::Part part_{};
  const Variables* variables_ = nullptr;
  std::vector<Slack> list_;
  bool all_of_test_ = false, rest_holds_ = true;
};

}  // namespace mm

// Walks through the box towards worlds where a claim passes, or fails: what holds in a narrow corner of the
// box is seldom met by worlds drawn at random, nor by the corner of one comparison alone.
#pragma once
#include <functional>

#include "evaluate/variables.hpp"

namespace mm {

/// From a few worlds on, one value after another is moved to where the claim is nearest to passing (failing).
/// How near: what is missing in a comparison, as a share of what it spans over the box; the least of two
/// joined by `and`, the greatest of two joined by `or` (robustness, as in signal temporal logic; from
/// memory).
class Walks {
 public:
  Walks(Bench& bench, const Claim& claim, const Variables& variables);

  /// Towards worlds of one kind: puts the box at every world that seems to be one, or to touch its limit, and
  /// then at where the walk ended. `at_world` and `at_end` say whether to go on. The box stays at the last
  /// one.
  void each(bool passes, const std::function<bool()>& at_world, const std::function<bool()>& at_end);

 private:
  void find_spans();
  /// What the parts come to at the world where the box stands: greater than nothing where it passes.
  double nearness();
  double part_nearness(std::size_t part);
  double in_table(const Claim::Part& part, const Op& op, double span);
  void start_from(std::size_t manner);
  bool try_spot(std::size_t variable, const Rational& value);
  bool try_symbol(std::size_t variable, std::uint32_t member);
  bool better_than_here();
  bool move(std::size_t variable, double share);
  bool may_go_on() const { return left_ > 0 && !stopped_ && !bench_->spent(); }

  Bench* bench_;
  const Claim* claim_;
  const Variables* variables_;
  std::vector<ExactInterval> ranges_;  // by variable, as the box stood
  Claim::Part parts_[3];
  std::size_t part_count_ = 0;
  std::vector<double> spans_[3];  // by part, then register of a comparison or question to a table
  std::vector<double> near_;      // by register of the present part
  const std::function<bool()>* at_world_ = nullptr;
  bool passes_ = true, stopped_ = false;
  double here_ = 0;  // how near the present world is
  std::size_t left_ = 0;
  std::uint64_t state_ = 0;
};

}  // namespace mm

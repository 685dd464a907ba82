// Sharper than plain interval arithmetic: each comparison at its worst and best corner, by monotonicity.
#pragma once
#include "evaluate/variables.hpp"

namespace mm {

/// A comparison, quantifier or flag under the `and`, `or` and `not` of one part of a claim; of abs(x) <= y
/// each of x <= y and -x <= y.
struct Leaf {
  std::size_t part = 0;
  Reg reg = no_reg;
  const Op* op = nullptr;
  Reg inner = no_reg;  // x
  int sign = 1;
  Bits bits = anything;
  std::vector<Direction> moves;   // by variable
  std::vector<double> influence;  // by variable: how far it can shift the two sides against each other
};

/// How much to spend: doubles only; corners exactly where doubles leave them open; slopes exactly too.
enum class Care : std::uint8_t { doubles, corners, slopes };

class Tightener {
 public:
  explicit Tightener(Bench& bench) : bench_(&bench) {}

  /// Finds the claim's leaves; to be called once a claim, before `tighten`.
  void take(const Claim& claim, const Variables& variables);
  /// Judges the box as it stands. `decided_fast`: plain arithmetic sufficed.
  Judged tighten(Care care, bool& decided_fast);
  /// Directions of open leaves along each axis through the box's middle, others held there: where to look for
  /// failing and passing worlds, no proof of anything. By leaf, then variable.
  std::vector<std::vector<Direction>> middle_moves();
  /// Leaves as the last `tighten` left them.
  const std::vector<Leaf>& leaves() const { return leaves_; }
  const Claim& claim() const { return *claim_; }

 private:
  void find_leaves();
  void run_fast();
  void find_slopes();
  void find_exact_slopes();
  void run_slopes(std::size_t part, std::size_t variable);
  void settle_leaves(bool exactly);
  template <class Num>
  static MachineValue<Num> truth_at(const Machine<Num>& machine, const Leaf& leaf);
  /// The leaf with every monotone variable at the end where it holds least (or most).
  Bits at_corner(const Leaf& leaf, bool least, bool exactly);
  Judged combined() const;

  Bench* bench_;
  const Claim* claim_ = nullptr;
  const Variables* variables_ = nullptr;
  Claim::Part parts_[3];
  std::size_t part_count_ = 0;
  std::vector<Leaf> leaves_;
};

}  // namespace mm

// Sharper than plain interval arithmetic: each comparison at its worst and best corner, by monotonicity.
#pragma once
#include "evaluate/arrangement.hpp"
#include "evaluate/variables.hpp"

namespace mm {

/// How much to spend: doubles only; corners exactly where doubles leave them open; slopes exactly too.
enum class Care : std::uint8_t { doubles, corners, slopes };

class Tightener {
 public:
  explicit Tightener(Bench& bench) : bench_(&bench), arrangement_(bench) {}

  /// Finds the claim's leaves; to be called once a claim, before `tighten`.
  void take(const Claim& claim, const Variables& variables);
  /// As `take`, of a part of the box that `leaves` were tightened over: what moved one way there still does.
  void take_within(const Claim& claim, const Variables& variables, const std::vector<Leaf>& leaves);
  /// Judges the box as it stands. `decided_fast`: plain arithmetic sufficed. `wanted`: the only answer of a
  /// comparison that is asked about; with another one it counts as open.
  Judged tighten(Care care, bool& decided_fast, Bits wanted = anything);
  /// As the last `tighten` with Care::doubles left it, the box being what it was then: with Care::corners.
  Judged tighten_on();
  /// As the last `tighten` left it open, the box not being changed since: with what comparisons have to do
  /// with each other; `in_pairs`: also where two have no form in common. That counts from now on for this
  /// claim, in every part of the box.
  Judged arrange(bool in_pairs = true);
  void forget_arrangement() { arrangement_.forget(); }
  /// Directions of open leaves along each axis through the box's middle, others held there: where to look for
  /// failing and passing worlds, no proof of anything. By leaf, then variable.
  std::vector<std::vector<Direction>> middle_moves();
  /// Leaves as the last `tighten` left them.
  const std::vector<Leaf>& leaves() const { return skeleton_.leaves(); }

 private:
  void run_fast();
  void find_slopes();
  void see_what_is_defined();
  void find_exact_slopes();
  void run_slopes(std::size_t part, std::size_t variable);
  void settle_leaves(bool exactly, Bits wanted = anything);
  template <class Num>
  static MachineValue<Num> truth_at(const Machine<Num>& machine, const Leaf& leaf);
  /// The leaf with every monotone variable at the end where it holds least (or most).
  Bits at_corner(const Leaf& leaf, bool least, bool exactly);
  Judged arranged();

  Bench* bench_;
  const Claim* claim_ = nullptr;
  const Variables* variables_ = nullptr;
  Skeleton skeleton_;
  Arrangement arrangement_;
  bool moves_known_ = false;  // of a leaf where it is not may_move, for all that this claim is tightened over
};

}  // namespace mm

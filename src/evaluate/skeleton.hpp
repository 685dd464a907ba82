// A claim as comparisons under `and`, `or`, `not` and `if`: what of the whole follows from their answers.
#pragma once
#include <vector>

#include "evaluate/claim.hpp"

namespace mm {

/// A comparison, quantifier or flag of one part of a claim. One of abs(x) <= y is followed by its pieces x <=
/// y and -x <= y, one of x in a table by the comparisons of x with the ends of its rows.
struct Leaf {
  std::size_t part = 0;
  Reg reg = no_reg;
  const Op* op = nullptr;
  OpCode code = OpCode::le;  // of a comparison, else the operation's
  Reg lower = no_reg;        // of a comparison: sign * lower against upper, or against `end`
  Reg upper = no_reg;
  int sign = 1;
  const NumberConst* end = nullptr;  // of a row: its greatest, or where `sign` is -1 its least
  std::size_t group = 0;             // of a piece: all of one group must hold, and one group suffices
  bool has_pieces = false;
  Bits bits = anything;
  std::vector<Direction> moves;   // by variable
  std::vector<double> influence;  // by variable: how far it can shift the two sides against each other

  bool compares() const { return lower != no_reg; }
  bool is_piece() const { return group != 0; }
};

/// The same question, each of its own box: a row of a table may be left out in one of them.
inline bool asks_as(const Leaf& a, const Leaf& b) {
  return a.part == b.part && a.reg == b.reg && a.lower == b.lower && a.upper == b.upper && a.sign == b.sign &&
         a.end == b.end;
}

/// By register: x where it holds abs(x), else no_reg.
std::vector<Reg> inside_of_abs(const Block& block, std::size_t registers);

class Skeleton {
 public:
  /// Over the box as it stands: a row of a table that no value there meets is left out.
  void take(Bench& bench, const Claim& claim, std::size_t variables);
  std::vector<Leaf>& leaves() { return leaves_; }
  const std::vector<Leaf>& leaves() const { return leaves_; }
  /// Some answer is asked for in two places.
  bool asks_twice() const { return asks_twice_; }

  std::size_t parts() const { return part_count_; }
  const Claim::Part& part(std::size_t p) const { return parts_[p]; }
  const Block& block(std::size_t p) const { return parts_[p].program->blocks[parts_[p].block]; }

  /// The whole from answers by leaf.
  Judged judge(const std::vector<Bits>& answers) const;
  Judged judge() const;

 private:
  void find(Bench& bench, std::size_t part, std::size_t variables);
  void add(Bench& bench, const Leaf& usual, const std::vector<Reg>& inside);
  void add_rows(Bench& bench, const Leaf& whole);
  Bits pieces_of(std::size_t& leaf, const std::vector<Bits>& answers) const;

  Claim::Part parts_[3];
  std::size_t part_count_ = 0;
  std::vector<Leaf> leaves_;
  bool asks_twice_ = false;
};

}  // namespace mm

// How much room a claim leaves: the margin of a comparison, and what follows from margins where they are
// joined.
#pragma once
#include <optional>
#include <vector>

#include "evaluate/claim.hpp"

namespace mm {

/// What the margin may be, over a box. Of `a <= b` it is b - a, of `a = b` -|b - a|; the least of two joined
/// by `and`, the greatest of two joined by `or`, with the other sign of what is denied; of `every` the least
/// that there is. Greater than nothing: it holds; less than nothing: it fails. What is no comparison in the
/// measure that is looked for has endless room where it holds, and lacks endless room where it fails.
template <class Num>
struct Room {
  Num number{};            // where `some`
  bool some = false;       // it may be a number
  bool endless = false;    // it may have endless room
  bool none = false;       // it may lack endless room
  bool undefined = false;  // it may be neither
  bool jumps = false;      // its slope is not known
};

/// Works out the margin of a claim in one measure, in base units; of a machine that stands on a box.
template <class Num>
class RoomMachine {
 public:
  RoomMachine(Machine<Num>& machine, const Bench& bench) : machine_(machine), bench_(bench) {}

  /// Without a measure there is no comparison in it.
  Room<Num> room(const Claim& claim, const std::optional<Measure>& measure);
  /// How many pieces a range of numbers is looked at in.
  void set_range_pieces(int pieces) { range_pieces_ = pieces; }
  /// Of comparisons that the last claim left open, each once.
  const std::vector<Measure>& open_measures() const { return open_; }

 private:
  Room<Num> of_block(BlockIndex block);
  Room<Num> of_op(const Op& op);
  bool is_cut(const Op& op) const;
  Room<Num> of_comparison(const Op& op);
  Room<Num> of_rows(const Op& op);
  Room<Num> of_row(const Lookup& lookup, std::size_t row);
  Room<Num> of_items(const Op& op);
  Room<Num> of_range(const Op& op);
  Room<Num> of_item(const Quantifier& q, bool some);
  Room<Num> of_bits(Reg reg) const;
  bool is_measured(const Op& op, const Measure& its);

  Machine<Num>& machine_;
  const Bench& bench_;
  const Program* program_ = nullptr;
  std::optional<Measure> measure_;
  std::vector<Measure> open_;
  std::vector<Room<Num>> rooms_;  // by register
  int range_pieces_ = 16;
  int depth_ = 0;  // of ranges in ranges
};

}  // namespace mm

// Writes one part of a claim out into a program of its own (see unfold.hpp).
#pragma once
#include <map>
#include <optional>
#include <tuple>

#include "evaluate/unfold.hpp"

namespace mm {

/// A step that stands for nothing in the text.
inline Op fresh(OpCode code, TypeKind result, Reg a = no_reg, Reg b = no_reg, Reg c = no_reg) {
  Op op{};
  op.code = code;
  op.result = result;
  op.a = a, op.b = b, op.c = c;
  return op;
}

class UnfoldWriter {
 public:
  using Extent = Unfolded::Extent;
  /// `binding` gets a slot for each part that is spoken of; `room` is what may be written still.
  UnfoldWriter(Bench& bench, const Claim& claim, const Claim::Part& part, Binding& binding,
               std::int64_t& room, Extent extent);

  Program take() { return std::move(out_); }
  /// Something was written otherwise than it stood.
  bool differs() const { return differs_; }
  bool says_more() const { return says_more_; }

 private:
  /// An operation as it was written; what it holds was defined all over the box, as far as that is known.
  struct Made {
    Op op;
    bool is_defined = false;
    bool holds_choice = false;  // a number: an `if`, or the lesser or greater of two, is part of it
  };
  /// A number that is one of two.
  struct Split {
    Reg condition, yes, no;
  };

  Reg write(BlockIndex block);
  void write(const Op& op);
  Reg add(Op op, bool is_defined = false);
  Reg add_truth(OpCode code, Reg a, Reg b = no_reg, Reg c = no_reg);
  Reg constant(bool truth);
  Reg number(const Rational& value, TypeKind kind);
  bool was_defined(const Op& op) const;
  void copy(const Op& op);
  Op copied(const Op& op);
  std::uint32_t copied_lookup(std::uint32_t payload);
  std::uint32_t add_lookup(Lookup lookup);
  /// With its quantifier as it stands.
  void keep(const Op& op);
  BlockIndex kept(BlockIndex block);

  Reg asked(bool some, Reg where, Reg body);
  bool over_items(const Op& op);
  bool all_or_some(const Op& op, const Quantifier& q, const std::vector<EntityId>& items);
  bool together(const Op& op, const Quantifier& q, const std::vector<EntityId>& items);
  Bits there(const Quantifier& q, EntityId item);
  Reg written_for(const Quantifier& q, EntityId item, BlockIndex block);
  std::uint32_t slot_for(EntityId entity);

  bool over_range(const Op& op);
  Interval run_over(const Quantifier& q);
  void add_witnesses(const Op& op);
  std::vector<Reg> turns(const Quantifier& q);
  Reg turn(Reg left, Reg to, const Rational& slope);
  Reg written_at(const Quantifier& q, bool some, Reg number);
  Reg written_anywhere(const Quantifier& q, bool some, const Interval& range);

  Reg compare(const Op& op);
  std::optional<Reg> by_extremes(const Op& op);
  std::optional<Split> split(Reg number, int depth);
  bool holds_choice(const Op& op) const;
  Reg compare_parts(const Op& op);
  Reg look_up(const Op& op, bool is_defined);
  Reg rounded(const Op& op, const Op& as_it_stood);
  std::optional<bool> assumed(Reg condition) const;

  Bench& bench_;
  const Program& from_;
  Binding& binding_;
  std::int64_t& room_;
  const Extent extent_;
  Program out_;
  std::vector<Op>* into_ = nullptr;   // the block that is written
  bool as_it_stands_ = false;         // inside a quantifier that is kept
  bool is_unsure_ = false;            // at a number that may lie outside of its range
  std::vector<Made> made_;            // by register of `out_`
  std::vector<Reg> regs_;             // of `from_`: where they are now
  std::vector<std::uint32_t> slots_;  // the same
  std::vector<Reg> numbers_;          // by slot of a range's variable: what it is written out at
  using Key = std::tuple<OpCode, TypeKind, Reg, Reg, Reg, std::uint32_t>;
  std::map<Key, Reg> known_;  // what the main block holds
  std::vector<std::pair<Reg, bool>> assumed_;
  int depth_ = 0;  // of comparisons within comparisons
  bool differs_ = false, says_more_ = false;
};

/// Whether what a quantifier over a range of numbers asks may be asked at the range's two ends alone: its
/// comparisons being linear in the variable, and joined so that none depends on it beside another.
bool ends_speak_for_all(const Program& program, const Quantifier& q, bool some);

}  // namespace mm

// Quantifiers over a range of numbers, at the ends of the range. What is linear in the variable is least at
// one end and greatest at the other, whichever way it goes; a range from a number to itself is that number.
#include <algorithm>

#include "evaluate/unfold_writer.hpp"
#include "evaluate/varying.hpp"

namespace mm {

namespace {

/// How an operation hangs on the variable.
enum class Degree : std::uint8_t { none, linear, other };

class Ends {
 public:
  Ends(const Program& program, const Quantifier& q)
      : program_(program), slot_(q.slot), degrees_(program.registers, Degree::none) {
    for (auto& speaks : speaks_) speaks.assign(program.registers, 0);
    for (const BlockIndex index : {q.where, q.body})
      if (index != no_block) look_at(program.blocks[index]);
  }
  Degree degree(BlockIndex block) const {
    return block == no_block ? Degree::none : degrees_[program_.blocks[block].result];
  }

  /// Whether the truth that a block comes to holds for all (else for some) of the range just where it does
  /// for both of its ends (else for one).
  bool speak(BlockIndex block, bool all) const {
    const Reg reg = program_.blocks[block].result;
    return degrees_[reg] == Degree::none || speaks_[all ? 1 : 0][reg] != 0;
  }

 private:
  void look_at(const Block& block) {
    for (const Op& op : block.ops) {
      degrees_[op.target] = degree_of(op);
      for (const bool all : {false, true}) speaks_[all ? 1 : 0][op.target] = speaks(op, all) ? 1 : 0;
    }
  }

  bool speaks(const Op& op, bool all) const {
    if (degrees_[op.target] == Degree::none) return true;
    const auto side = [&](Reg reg, bool of_all) {
      return degrees_[reg] == Degree::none || speaks_[of_all ? 1 : 0][reg] != 0;
    };
    const bool linear = of(op.a) != Degree::other && of(op.b) != Degree::other;
    switch (op.code) {
      case OpCode::lt:
      case OpCode::le:
        return linear;
      case OpCode::eq:
        return all && linear;
      case OpCode::logical_not:
        return side(op.a, !all);
      case OpCode::logical_and:
      case OpCode::logical_or: {
        const bool apart = of(op.a) == Degree::none || of(op.b) == Degree::none;
        return (apart || all == (op.code == OpCode::logical_and)) && side(op.a, all) && side(op.b, all);
      }
      case OpCode::choose:
        return of(op.a) == Degree::none && side(op.b, all) && side(op.c, all);
      default:
        return false;
    }
  }

  Degree of(Reg reg) const { return reg == no_reg ? Degree::none : degrees_[reg]; }

  Degree degree_of(const Op& op) const {
    const Degree most = std::max({of(op.a), of(op.b), of(op.c)});
    switch (op.code) {
      case OpCode::local_number:
        return op.payload == slot_ ? Degree::linear : Degree::none;
      case OpCode::add:
      case OpCode::sub:
      case OpCode::neg:
      case OpCode::lt:
      case OpCode::le:
      case OpCode::eq:
      case OpCode::logical_and:
      case OpCode::logical_or:
      case OpCode::logical_not:
        return most;
      case OpCode::mul:
        return of(op.a) == Degree::none || of(op.b) == Degree::none ? most : Degree::other;
      case OpCode::div:
        return of(op.b) == Degree::none ? most : Degree::other;
      case OpCode::choose:
        return of(op.a) == Degree::none ? most : Degree::other;
      default:
        return hangs_on_variable(op) ? Degree::other : Degree::none;
    }
  }

  /// Itself, or a quantifier with anything in it.
  bool hangs_on_variable(const Op& op) const {
    bool out = false;
    visit_inputs(
        program_, op, [&](Reg reg) { out = out || of(reg) != Degree::none; },
        [&](std::uint32_t slot) { out = out || slot == slot_; });
    return out;
  }

  const Program& program_;
  std::uint32_t slot_;
  std::vector<Degree> degrees_;  // by register
  std::vector<char> speaks_[2];  // for some, for all: by register of a truth
};

}  // namespace

bool ends_speak_for_all(const Program& program, const Quantifier& q, bool some) {
  const Ends ends(program, q);
  const bool body_speaks = q.body == no_block || ends.speak(q.body, !some);
  if (q.where == no_block || ends.degree(q.where) == Degree::none) return body_speaks;
  // whether there is a number that `where` holds for is what both hang on then
  return ends.degree(q.body) == Degree::none && ends.speak(q.where, false);
}

/// What is asked at one number of the range.
Reg UnfoldWriter::written_at(const Quantifier& q, bool some, Reg number) {
  numbers_[q.slot] = number;
  const Reg where = q.where == no_block ? no_reg : write(q.where);
  const Reg body = q.body == no_block ? no_reg : write(q.body);
  numbers_[q.slot] = no_reg;
  return asked(some, where, body);
}

/// What is asked at any one number, where that is one of the range.
Reg UnfoldWriter::written_anywhere(const Quantifier& q, bool some, const Interval& range) {
  const Rational *lo = bench_.fast.at(q.lo).exact, *hi = bench_.fast.at(q.hi).exact;
  const bool sure = lo != nullptr && hi != nullptr;
  if (sure && *hi < *lo) return constant(!some);
  const ExactInterval whole = sure ? ExactInterval::of(*lo, *hi) : ExactInterval::from(range);
  const auto slot = static_cast<std::uint32_t>(binding_.locals.size());
  binding_.locals.emplace_back();
  out_.free_numbers.push_back({slot, whole});
  Op any = fresh(OpCode::local_number, TypeKind::quantity);
  any.payload = slot;
  const Reg number = add(any, true);
  const Reg asks = written_at(q, some, number);
  if (sure) return asks;
  const Reg below = add_truth(OpCode::lt, number, regs_[q.lo]);
  const Reg outside = add_truth(OpCode::logical_or, below, add_truth(OpCode::lt, regs_[q.hi], number));
  return some ? add_truth(OpCode::logical_and, add_truth(OpCode::logical_not, outside), asks)
              : add_truth(OpCode::logical_or, outside, asks);
}

/// How the blocks within stand for the numbers of the range, which it tells.
Interval UnfoldWriter::run_over(const Quantifier& q) {
  const auto end = [&](Reg reg) { return bounds(bench_.fast.number_of(bench_.fast.at(reg))); };
  const Interval range = hull(end(q.lo), end(q.hi));
  bench_.fast.bind_number(q.slot, range);
  for (const BlockIndex block : {q.where, q.body})
    if (block != no_block) bench_.fast.run(block);
  return range;
}

bool UnfoldWriter::over_range(const Op& op) {
  const Quantifier& q = from_.quantifiers[op.payload];
  const auto& lo = bench_.fast.at(q.lo);
  const auto& hi = bench_.fast.at(q.hi);
  if (lo.state != defined || hi.state != defined) return false;
  const bool some = op.code == OpCode::some_number;
  const Reg low = regs_[q.lo], high = regs_[q.hi];
  const bool one_number = low == high;
  const bool by_ends = one_number || ends_speak_for_all(from_, q, some);
  if (!by_ends && extent_ != Extent::freely) return false;
  const Interval range = run_over(q);
  Reg all = by_ends ? written_at(q, some, low) : written_anywhere(q, some, range);
  if (by_ends && !one_number) {
    const Reg other = written_at(q, some, high);
    const Reg is_empty = add_truth(OpCode::lt, high, low);
    all = add_truth(some ? OpCode::logical_or : OpCode::logical_and, all, other);
    all = some ? add_truth(OpCode::logical_and, add_truth(OpCode::logical_not, is_empty), all)
               : add_truth(OpCode::logical_or, is_empty, all);
  }
  regs_[op.target] = all;
  differs_ = true;
  return true;
}

}  // namespace mm

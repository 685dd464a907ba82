// A quantifier over a range of numbers whose ends do not speak for it, beside what it asks at single numbers:
// `some` holds where one of them will do, `every` fails where one does not, and nothing is said otherwise.
// The numbers are the ends of the range, its middle and those at which a comparison in the quantifier turns
// over, as far as they can be written: x - 2 for z in `z + 2 = x`.
#include <algorithm>

#include "evaluate/skeleton.hpp"
#include "evaluate/unfold_writer.hpp"
#include "evaluate/varying.hpp"

namespace mm {

namespace {

constexpr std::size_t most_witnesses = 8;  // of one quantifier, beside the ends
constexpr std::int64_t least_room = 1500;  // that there must be for them

/// How steeply each register of a quantifier's blocks rises with its number; none where that is no constant.
class Slopes {
 public:
  Slopes(const Program& program, const Quantifier& q, const Machine<Interval>& machine)
      : program_(program),
        slot_(q.slot),
        machine_(machine),
        slopes_(program.registers, Rational(0)),
        makers_(program.registers, nullptr) {
    for (const BlockIndex index : {q.where, q.body})
      if (index != no_block)
        for (const Op& op : program.blocks[index].ops) {
          slopes_[op.target] = slope_of(op);
          makers_[op.target] = &op;
        }
  }
  const std::optional<Rational>& operator[](Reg reg) const { return slopes_[reg]; }
  /// What rises with the number of the lesser or greater of it and a constant.
  Reg moving(Reg reg) const {
    for (const Op* op = makers_[reg]; op != nullptr; op = makers_[reg]) {
      if (slopes_[reg] || (op->code != OpCode::min && op->code != OpCode::max)) break;
      if (slopes_[op->a] == Rational(0)) {
        reg = op->b;
      } else if (slopes_[op->b] == Rational(0)) {
        reg = op->a;
      } else {
        break;
      }
    }
    return reg;
  }

 private:
  std::optional<Rational> slope_of(const Op& op) const {
    if (op.code == OpCode::local_number && op.payload == slot_) return Rational(1);
    if (!hangs_on_number(op)) return Rational(0);
    const std::optional<Rational> a = op.a == no_reg ? Rational(0) : slopes_[op.a];
    const std::optional<Rational> b = op.b == no_reg ? Rational(0) : slopes_[op.b];
    if (!a || !b) return std::nullopt;
    switch (op.code) {
      case OpCode::add:
        return *a + *b;
      case OpCode::sub:
        return *a - *b;
      case OpCode::neg:
        return -*a;
      case OpCode::mul:
        if (const Rational* factor = constant(op.b)) return *a * *factor;
        if (const Rational* factor = constant(op.a)) return *b * *factor;
        return std::nullopt;
      case OpCode::div:
        if (const Rational* divisor = constant(op.b); divisor != nullptr && divisor->sign() != 0)
          return *a / *divisor;
        return std::nullopt;
      default:
        return std::nullopt;
    }
  }

  const Rational* constant(Reg reg) const {
    return slopes_[reg] == Rational(0) ? machine_.at(reg).exact : nullptr;
  }

  bool hangs_on_number(const Op& op) const {
    bool out = false;
    visit_inputs(
        program_, op, [&](Reg reg) { out = out || (reg != no_reg && slopes_[reg] != Rational(0)); },
        [&](std::uint32_t slot) { out = out || slot == slot_; });
    return out;
  }

  const Program& program_;
  std::uint32_t slot_;
  const Machine<Interval>& machine_;
  std::vector<std::optional<Rational>> slopes_;  // by register
  std::vector<const Op*> makers_;                // of the quantifier's own blocks: by register
};

}  // namespace

/// The number at which `left`, which was written at zero, comes to `to`, which was too.
Reg UnfoldWriter::turn(Reg left, Reg to, const Rational& slope) {
  const Op less = fresh(OpCode::sub, TypeKind::quantity, to, left);
  const Reg way = add(less);
  if (slope == Rational(1)) return way;
  return add(fresh(OpCode::mul, TypeKind::quantity, way, number(Rational(1) / slope, TypeKind::quantity)));
}

/// Where comparisons turn over, and questions to tables.
std::vector<Reg> UnfoldWriter::turns(const Quantifier& q) {
  const Slopes slopes(from_, q, bench_.fast);
  std::vector<Reg> out;
  const auto keep = [&](Reg turn) {
    if (out.size() < most_witnesses && std::find(out.begin(), out.end(), turn) == out.end())
      out.push_back(turn);
  };
  const auto turns_of = [&](Reg compared, Reg against, int sign) {
    const Reg left = slopes.moving(compared), right = slopes.moving(against);
    if (!slopes[left] || !slopes[right]) return;
    const Rational slope = *slopes[left] - *slopes[right] * sign;
    if (slope.sign() == 0) return;
    const Reg to = regs_[right];
    keep(turn(regs_[left], sign > 0 ? to : add(fresh(OpCode::neg, TypeKind::quantity, to)), slope));
  };
  const auto look_up = [&](const Lookup& lookup) {
    if (lookup.conditions.size() != 1) return;
    const LookupCondition& condition = lookup.conditions[0];
    const Reg key = slopes.moving(condition.value);
    if (!slopes[key] || slopes[key]->sign() == 0) return;
    for (const auto& row : bench_.index.model.tables[lookup.table].rows) {
      const NumberId id = row[condition.column].number;
      if (!id) return;
      const ExactInterval& cell = bench_.index.model.numbers[id].exact;
      if (!cell.lo_infinite) keep(turn(regs_[key], number(cell.lo_value, TypeKind::quantity), *slopes[key]));
    }
  };
  numbers_[q.slot] = number(0, TypeKind::quantity);
  const bool before = std::exchange(is_unsure_, true);
  for (const BlockIndex index : {q.where, q.body}) {
    if (index == no_block) continue;
    write(index);
    const Block& block = from_.blocks[index];
    const std::vector<Reg> inside_of = inside_of_abs(block, from_.registers);
    for (const Op& op : block.ops) {
      if (op.code == OpCode::in_table) look_up(from_.lookups[op.payload]);
      if (!is_comparison(op.code)) continue;
      const Reg inside = inside_of[op.a];
      turns_of(inside == no_reg ? op.a : inside, op.b, 1);
      if (inside != no_reg) turns_of(inside, op.b, -1);
    }
  }
  is_unsure_ = before;
  numbers_[q.slot] = no_reg;
  return out;
}

/// Beside the quantifier as it was kept.
void UnfoldWriter::add_witnesses(const Op& op) {
  const Quantifier& q = from_.quantifiers[op.payload];
  const auto& lo = bench_.fast.at(q.lo);
  const auto& hi = bench_.fast.at(q.hi);
  if (lo.state != defined || hi.state != defined || room_ < least_room) return;
  const bool some = op.code == OpCode::some_number;
  run_over(q);
  const Reg low = regs_[q.lo], high = regs_[q.hi];
  Reg all = regs_[op.target];
  const auto add_one = [&](Reg number, Reg inside) {
    const Reg asks = written_at(q, some, number);
    const Reg one = add_truth(some ? OpCode::logical_and : OpCode::logical_or,
                              some ? inside : add_truth(OpCode::logical_not, inside), asks);
    all = add_truth(some ? OpCode::logical_or : OpCode::logical_and, one, all);
  };
  const Reg any = add_truth(OpCode::le, low, high);
  const Reg twice = add(fresh(OpCode::add, TypeKind::quantity, low, high));
  const Reg half = number(Rational(1, 2), TypeKind::quantity);
  const Reg middle = add(fresh(OpCode::mul, TypeKind::quantity, twice, half));
  for (const Reg one : {low, high, middle}) add_one(one, any);
  const bool before = std::exchange(is_unsure_, true);
  for (const Reg turn : turns(q)) {
    if (room_ < least_room / 2) break;
    const Reg above = add_truth(OpCode::le, low, turn);
    const Reg inside = add_truth(OpCode::logical_and, above, add_truth(OpCode::le, turn, high));
    // where the range has no number nothing is asked, though the turn may be undefined
    add_one(turn, add_truth(OpCode::logical_and, any, inside));
  }
  is_unsure_ = before;
  regs_[op.target] = all;
  differs_ = says_more_ = true;
}

}  // namespace mm

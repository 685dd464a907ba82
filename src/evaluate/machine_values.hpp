// Body of Machine: comparison, logic and choice. Included by the files that instantiate it.
#pragma once
#include "evaluate/machine_impl.hpp"

namespace mm {

template <class Num>
Bits Machine<Num>::number_compare(OpCode code, const Value& a, const Value& b) const {
  if (a.exact != nullptr && b.exact != nullptr) {
    if (code == OpCode::lt) return truth_bits(*a.exact < *b.exact);
    if (code == OpCode::le) return truth_bits(*a.exact <= *b.exact);
    return truth_bits(*a.exact == *b.exact);
  }
  if (a.kind == ValueKind::number && b.kind == ValueKind::number) {
    if (code == OpCode::lt) return less_bits(a.number, b.number);
    if (code == OpCode::le) return less_equal_bits(a.number, b.number);
    return equal_bits(a.number, b.number);
  }
  const Num x = number_of(a);
  const Num y = number_of(b);
  if (code == OpCode::lt) return less_bits(x, y);
  if (code == OpCode::le) return less_equal_bits(x, y);
  return equal_bits(x, y);
}

template <class Num>
void Machine<Num>::compare(OpCode code, const Value& a, const Value& b, Value& out) const {
  if ((a.state & undecided) == 0 || (b.state & undecided) == 0) return set_truth(out, may_undef, still);
  const Bits undefined = (a.state | b.state) & may_undef;
  Bits bits = &a == &b ? truth_bits(code != OpCode::lt) : number_compare(code, a, b);
  Direction direction = still;
  if constexpr (is_dual) {
    if (undefined != 0 && (moves(a) || moves(b))) {
      direction = may_move;
    } else if (!is_single(bits) && (moves(a) || moves(b))) {
      const Num difference = sub(number_of(a), number_of(b));
      const Base near = add(difference.middle, mul(difference.slope, offset_));
      const Base zero = Num::constant(0);
      const Bits by_middle = code == OpCode::lt   ? less_bits(near, zero)
                             : code == OpCode::le ? less_equal_bits(near, zero)
                                                  : equal_bits(near, zero);
      if (is_single(by_middle) && by_middle != may_undef &&
          !(code == OpCode::eq && by_middle == surely_yes)) {
        bits = by_middle;
      }
      if (may_be_positive(difference.slope)) direction |= may_fall;
      if (may_be_negative(difference.slope)) direction |= may_rise;
      if (direction != still && code == OpCode::eq) direction = may_move;
    }
  }
  set_truth(out, bits | undefined, direction);
}

template <class Num>
void Machine<Num>::take_answer(const Op& op, Value& out) const {
  if (answers_ == nullptr || (out.state & undecided) == 0) return;
  for (const auto& [asked, answer] : *answers_)
    if (asked == &op) set_truth(out, answer | (out.state & may_undef), out.direction);
}

template <class Num>
MachineValue<Num> Machine<Num>::signed_value(int sign, Reg inner) const {
  Value out = registers_[inner];
  if (sign < 0) {
    out.number = neg(number_of(out));
    out.kind = ValueKind::number;
    out.exact = nullptr;
  }
  return out;
}

template <class Num>
MachineValue<Num> Machine<Num>::one_side(OpCode code, int sign, Reg inner, Reg upper) const {
  Value out;
  compare(code, signed_value(sign, inner), registers_[upper], out);
  return out;
}

template <class Num>
MachineValue<Num> Machine<Num>::against(OpCode code, int sign, Reg inner, const NumberConst& row) const {
  const Rational at = sign > 0 ? row.exact.hi_value : -row.exact.lo_value;
  Value end, out;
  end.state = defined;
  end.exact = &at;
  load_range(end.number, ExactInterval::point(at), Interval::of(round_down(at), round_up(at)));
  compare(code, signed_value(sign, inner), end, out);
  return out;
}

template <class Num>
Bits Machine<Num>::same_bits(const Value& a, const Value& b) {
  if (a.symbols == nullptr || b.symbols == nullptr) return may_undef;
  if (a.symbols->all || b.symbols->all) return undecided;
  const std::vector<std::uint32_t>& x = a.symbols->members;
  const std::vector<std::uint32_t>& y = b.symbols->members;
  if (x.empty() || y.empty()) return truth_bits(x.empty() && y.empty());  // places of parts that have none
  if (x.size() == 1 && y.size() == 1) {
    if (a.kind == ValueKind::designation) return designations_->equal(x[0], y[0]);
    return truth_bits(x[0] == y[0]);
  }
  limits.steps -= static_cast<std::int64_t>(x.size() + y.size());
  Bits bits = surely_no;
  if (a.kind == ValueKind::designation) {
    for (const std::uint32_t left : x) {
      for (const std::uint32_t right : y) bits |= designations_->equal(left, right);
      limits.steps -= static_cast<std::int64_t>(y.size());
    }
    return bits;
  }
  for (std::size_t i = 0, j = 0; i < x.size() && j < y.size();) {
    if (x[i] == y[j]) return undecided;
    if (x[i] < y[j]) {
      ++i;
    } else {
      ++j;
    }
  }
  return surely_no;
}

template <class Num>
void Machine<Num>::same(const Op& op, Value& out) {
  const Value& a = registers_[op.a];
  const Value& b = registers_[op.b];
  if ((a.state & defined) == 0 || (b.state & defined) == 0) return set_truth(out, may_undef, still);
  const Direction direction = a.direction != still || b.direction != still ? may_move : still;
  const bool one = op.a == op.b || (a.cell && a.cell == b.cell);
  const Bits bits = one ? surely_yes : same_bits(a, b);
  set_truth(out, bits | ((a.state | b.state) & may_undef), direction);
}

template <class Num>
void Machine<Num>::logic(const Op& op, Value& out) {
  const Value& a = registers_[op.a];
  const Direction left = direction_of(a);
  if (op.code == OpCode::logical_not) {
    return set_truth(out, not_bits(truth_of(a)), turned(left));
  }
  const Value& b = registers_[op.b];
  const Bits x = truth_of(a);
  const Bits y = truth_of(b);
  set_truth(out, op.code == OpCode::logical_and ? and_bits(x, y) : or_bits(x, y), left | direction_of(b));
}

template <class Num>
const SymbolicSet* Machine<Num>::join(Reg target, const SymbolicSet* a, const SymbolicSet* b) {
  if (a == nullptr || b == nullptr || a == b) return a == nullptr ? b : a;
  if (a->all) return a;
  if (b->all) return b;
  union_.members.clear();
  std::set_union(a->members.begin(), a->members.end(), b->members.begin(), b->members.end(),
                 std::back_inserter(union_.members));
  SymbolicSet& made = frame_->made[target];  // may be one of the two
  made.all = false;
  std::swap(made.members, union_.members);
  return &made;
}

/// `into` becomes either of both values.
template <class Num>
void Machine<Num>::merge(Reg target, Value& into, const Value& other, bool switched_by_active) {
  if (into.kind == ValueKind::truth || other.kind == ValueKind::truth) {
    const Bits bits = truth_of(into) | truth_of(other);
    const Direction direction = direction_of(into) | direction_of(other);
    return set_truth(into, bits, switched_by_active ? may_move : direction);
  }
  if ((other.state & defined) == 0) {
    into.state |= may_undef;
  } else if ((into.state & defined) == 0) {
    into = other;
    into.state |= may_undef;
  } else if (into.kind == ValueKind::entity) {
    if (into.entity != other.entity) into.state = may_undef;  // which part is meant must not be open
    into.state |= other.state;
  } else if (into.kind == ValueKind::number) {
    if (into.exact == nullptr || other.exact == nullptr || *into.exact != *other.exact) into.exact = nullptr;
    into.number = hull(into.number, other.number);
    into.state |= other.state;
  } else {
    into.symbols = join(target, into.symbols, other.symbols);
    if (into.cell != other.cell) into.cell = {};
    into.state |= other.state;
    into.direction |= other.direction;
  }
  if (switched_by_active) {
    into.direction = may_move;
    if constexpr (is_dual) into.number.slope = Num::entire();
  }
}

template <class Num>
void Machine<Num>::choose(const Op& op, Value& out) {
  const Bits condition = truth_of(registers_[op.a]);
  if ((condition & undecided) == undecided) {
    out = registers_[op.b];
    merge(op.target, out, registers_[op.c], moves(registers_[op.a]));
  } else {
    out = registers_[(condition & may_yes) != 0 ? op.b : op.c];
    if ((condition & undecided) == 0) out.state = may_undef;
  }
  if ((condition & may_undef) != 0) {
    out.state |= may_undef;
    if (moves(registers_[op.a])) {
      out.direction = may_move;
      if constexpr (is_dual) out.number.slope = Num::entire();
    }
  }
}

}  // namespace mm

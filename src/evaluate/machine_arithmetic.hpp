// Body of Machine: arithmetic. Included by the files that instantiate it.
#pragma once
#include "evaluate/machine_impl.hpp"

namespace mm {

template <class Num>
void Machine<Num>::set_undefined(Value& out) {
  out.state = may_undef;
  out.number = number_entire(&out.number);
}

/// The operand for a while only what its guards leave of it.
template <class Num>
void Machine<Num>::guarded_arithmetic(const Op& op, Value& out) {
  const Guarded guards = op.payload;
  Value& operand = registers_[op.code == OpCode::div ? op.b : op.a];
  const Value whole = operand;
  if ((whole.state & (defined | may_no)) != 0) {
    operand.number = kept_by(guards, number_of(whole));
    operand.kind = ValueKind::number;
    operand.exact = nullptr;
  }
  Op plain = op;
  plain.payload = 0;
  arithmetic(plain, out);
  operand = whole;
  const bool zero_alone = op.code == OpCode::div || (guards & never_negative) != 0;  // has no value
  if (!zero_alone || (guards & never_zero) == 0 || (out.state & defined) == 0) return;
  const Bits undefined = registers_[op.a].state | (op.b != no_reg ? registers_[op.b].state : Bits{0});
  out.state = static_cast<Bits>(defined | (undefined & may_undef));
}

/// The lesser or the greater of two numbers that are known exactly is one of them.
template <class Num>
const Rational* Machine<Num>::exact_end(const Op& op) const {
  const Rational* const a = registers_[op.a].exact;
  const Rational* const b = registers_[op.b].exact;
  if (a == nullptr || b == nullptr) return nullptr;
  return (*a < *b) == (op.code == OpCode::min) ? a : b;
}

template <class Num>
void Machine<Num>::arithmetic(const Op& op, Value& out) {
  if (op.payload != 0) return guarded_arithmetic(op, out);
  const Value& a = registers_[op.a];
  const bool binary = op.b != no_reg;
  Bits state = a.state | (binary ? registers_[op.b].state : Bits{0});
  state &= may_undef;
  const bool is_defined =
      (a.state & (defined | may_no)) != 0 && (!binary || (registers_[op.b].state & (defined | may_no)) != 0);
  const Rational* exact = op.code == OpCode::min || op.code == OpCode::max ? exact_end(op) : nullptr;
  out.kind = ValueKind::number;
  out.exact = nullptr;
  if (!is_defined) return set_undefined(out);
  const Num x = number_of(a);
  Domain domain = Domain::whole;
  if (op.a == op.b && (op.code == OpCode::sub || op.code == OpCode::div)) {
    // one value with itself, whatever it is
    const double result = op.code == OpCode::sub ? 0 : 1;
    out.number = number_integer(&out.number, result, result);
    const Interval all = bounds(x);
    const bool over_zero = op.code == OpCode::div && all.contains(0);
    if (over_zero && all.is_point()) return set_undefined(out);
    out.state = static_cast<Bits>(state | defined | (over_zero ? may_undef : 0));
    return;
  }
  switch (op.code) {
    case OpCode::add:
      out.number = add(x, number_of(registers_[op.b]));
      break;
    case OpCode::sub:
      out.number = sub(x, number_of(registers_[op.b]));
      break;
    case OpCode::mul:
      out.number = mul(x, number_of(registers_[op.b]));
      break;
    case OpCode::div:
      out.number = div(x, number_of(registers_[op.b]), &domain);
      break;
    case OpCode::pow: {
      const Value& b = registers_[op.b];
      const Num exponent = number_of(b);
      const Interval e = bounds(exponent);
      bool still_exponent = true;
      if constexpr (is_dual) still_exponent = exponent.is_still();
      if (still_exponent && e.is_point() && std::abs(e.hi) <= 64 && std::floor(e.hi) == e.hi) {
        out.number = pown(x, static_cast<int>(e.hi), &domain);
      } else if (bounds(x).lo() < 0 && std::floor(e.hi) >= e.lo()) {
        // below zero it is defined for whole exponents only, of which there are some
        out.number = number_entire(&out.number);
        domain = Domain::part;
      } else {
        out.number = pow(x, exponent, &domain);
      }
      break;
    }
    case OpCode::neg:
      out.number = neg(x);
      break;
    case OpCode::abs:
      out.number = abs(x);
      break;
    case OpCode::min:
      out.number = min(x, number_of(registers_[op.b]));
      break;
    case OpCode::max:
      out.number = max(x, number_of(registers_[op.b]));
      break;
    case OpCode::sqrt:
      out.number = sqrt(x, &domain);
      break;
    case OpCode::sin:
      out.number = sin_turns(x);
      break;
    case OpCode::cos:
      out.number = cos_turns(x);
      break;
    case OpCode::tan:
      out.number = tan_turns(x, &domain);
      break;
    case OpCode::asin:
      out.number = asin_turns(x, &domain);
      break;
    case OpCode::acos:
      out.number = acos_turns(x, &domain);
      break;
    case OpCode::atan:
      out.number = atan_turns(x);
      break;
    case OpCode::exp:
      out.number = exp(x);
      break;
    case OpCode::ln:
      out.number = log(x, &domain);
      break;
    case OpCode::floor:
      out.number = floor(x);
      break;
    case OpCode::ceil:
      out.number = ceil(x);
      break;
    case OpCode::round:
      out.number = round_half_away(x);
      break;
    case OpCode::number:
    case OpCode::truth:
    case OpCode::symbolic:
    case OpCode::local:
    case OpCode::local_number:
    case OpCode::mate:
    case OpCode::part_of:
    case OpCode::face_of:
    case OpCode::attribute:
    case OpCode::field:
    case OpCode::form_is:
    case OpCode::lt:
    case OpCode::le:
    case OpCode::eq:
    case OpCode::same:
    case OpCode::logical_and:
    case OpCode::logical_or:
    case OpCode::logical_not:
    case OpCode::choose:
    case OpCode::lookup:
    case OpCode::in_table:
    case OpCode::every_entity:
    case OpCode::some_entity:
    case OpCode::count_entities:
    case OpCode::sum_entities:
    case OpCode::min_entities:
    case OpCode::max_entities:
    case OpCode::every_number:
    case OpCode::some_number:
      assert(false);
  }
  if (domain == Domain::none || number_empty(out.number)) return set_undefined(out);
  out.exact = exact;
  out.state = static_cast<Bits>(state | defined | (domain == Domain::part ? may_undef : 0));
}

/// A number that stays the same, as 0 * (1 / x) does, may still be undefined for some x only.
template <class Num>
void Machine<Num>::move_where_undefined(const Op& op, Value& out) {
  if constexpr (is_dual) {
    if ((out.state & may_undef) == 0 || !out.number.is_still()) return;
    if (moves(registers_[op.a]) || (op.b != no_reg && moves(registers_[op.b])))
      out.number.slope = Num::entire();
  }
}

}  // namespace mm

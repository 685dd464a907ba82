// Body of Machine: one step an operation. Included by the files that instantiate it, and by nobody else.
#pragma once
#include <algorithm>
#include <cmath>

#include "evaluate/machine.hpp"

namespace mm {

inline ValueKind value_kind(TypeKind kind) {
  switch (kind) {
    case TypeKind::choice:
    case TypeKind::text:
    case TypeKind::place:
      return ValueKind::symbol;
    case TypeKind::designation:
      return ValueKind::designation;
    case TypeKind::part:
    case TypeKind::face:
    case TypeKind::many_side:
      return ValueKind::entity;
    case TypeKind::error:
    case TypeKind::quantity:
    case TypeKind::count:
    case TypeKind::boolean:
    case TypeKind::date:
      break;
  }
  return ValueKind::number;
}

inline void load_range(Interval& out, const ExactInterval&, const Interval& number) { out = number; }
inline void load_range(ExactInterval& out, const ExactInterval& exact, const Interval&) { out = exact; }
inline void load_range(Dual& out, const ExactInterval&, const Interval& number) { out = Dual{number}; }
inline void load_range(ExactDual& out, const ExactInterval& exact, const Interval&) {
  out = ExactDual{exact};
}

template <class Num>
Machine<Num>::Machine(const Model& model, Designations& designations)
    : model_(&model), designations_(&designations) {}

template <class Num>
void Machine<Num>::set_truth(Value& out, Bits bits, Direction direction) {
  out.kind = ValueKind::truth;
  out.exact = nullptr;
  out.state = bits;
  out.direction = is_single(bits) ? still : direction;
}

template <class Num>
Bits Machine<Num>::truth_of(const Value& value) const {
  if (value.kind == ValueKind::truth) return value.state;
  Bits bits = value.state & may_undef;
  if ((value.state & defined) == 0) return bits;
  const Interval number = bounds(value.number);
  if (number.lo() < 1) bits |= may_no;
  if (number.hi > 0) bits |= may_yes;
  return bits;
}

template <class Num>
Direction Machine<Num>::direction_of(const Value& value) const {
  if constexpr (is_dual) {
    if (value.kind != ValueKind::number) return value.direction;
    Direction direction = still;
    if (may_be_positive(value.number.slope)) direction |= may_rise;
    if (may_be_negative(value.number.slope)) direction |= may_fall;
    return direction;
  } else {
    return still;
  }
}

template <class Num>
bool Machine<Num>::moves(const Value& value) const {
  return direction_of(value) != still;
}

template <class Num>
Num Machine<Num>::number_of(const Value& value) const {
  if (value.kind != ValueKind::truth) return value.number;
  const Num* tag = nullptr;
  Num number = number_integer(tag, (value.state & may_no) != 0 ? 0 : 1, (value.state & may_yes) != 0 ? 1 : 0);
  if constexpr (is_dual) {
    if (value.direction != still) number.slope = Num::entire();
  }
  return number;
}

/// From an entity to another one of the graph.
template <class Num>
void Machine<Num>::follow(const Op& op, Value& out) {
  const Value& a = registers_[op.a];
  out.kind = ValueKind::entity;
  out.entity = EntityId{};
  if (a.entity && (a.state & defined) != 0) {
    if (op.code == OpCode::mate) {
      out.entity = index_->mate_of(a.entity);
    } else if (op.code == OpCode::part_of) {
      out.entity = index_->part_of(a.entity);
    } else {
      out.entity = index_->face_of(a.entity, op.payload);
    }
  }
  out.state = out.entity ? a.state : may_undef;
}

template <class Num>
void Machine<Num>::work_out(const Op& op) {
  Value& out = registers_[op.target];
  out.cell = {};
  switch (op.code) {
    case OpCode::number:
      return load_number(out, model_->numbers[NumberId{op.payload}]);
    case OpCode::truth:
      return set_truth(out, truth_bits(op.payload != 0), still);
    case OpCode::symbolic:
      out.kind = value_kind(op.result) == ValueKind::designation ? ValueKind::designation : ValueKind::symbol;
      out.symbols = &model_->sets[SymbolicSetId{op.payload}];
      out.state = defined;
      out.direction = still;
      return;
    case OpCode::local:
      if (self_ != nullptr) {
        out.kind = ValueKind::designation;
        out.symbols = self_;
        out.state = defined;
        out.direction = still;
        return;
      }
      out.kind = ValueKind::entity;
      out.entity = locals_[op.payload];
      out.state = out.entity ? defined : may_undef;
      return;
    case OpCode::local_number:
      out.kind = ValueKind::number;
      out.number = slot_numbers_[op.payload];
      out.exact = nullptr;
      out.state = defined;
      return;
    case OpCode::mate:
    case OpCode::part_of:
    case OpCode::face_of:
      return follow(op, out);
    case OpCode::attribute:
      return load_cell(op, out);
    case OpCode::field:
      return load_field(op, out);
    case OpCode::form_is:
      return form_is(op, out);
    case OpCode::lt:
    case OpCode::le:
    case OpCode::eq:
      compare(op.code, registers_[op.a], registers_[op.b], out);
      return take_answer(op, out);
    case OpCode::same:
      return same(op, out);
    case OpCode::logical_and:
    case OpCode::logical_or:
    case OpCode::logical_not:
      return logic(op, out);
    case OpCode::choose:
      return choose(op, out);
    case OpCode::lookup:
      return lookup(op, out);
    case OpCode::in_table:
      in_table(op, out);
      return take_answer(op, out);
    case OpCode::every_entity:
    case OpCode::some_entity:
    case OpCode::count_entities:
    case OpCode::sum_entities:
    case OpCode::min_entities:
    case OpCode::max_entities:
    case OpCode::every_number:
    case OpCode::some_number:
      return;  // see step
    case OpCode::add:
    case OpCode::sub:
    case OpCode::mul:
    case OpCode::div:
    case OpCode::pow:
    case OpCode::neg:
    case OpCode::abs:
    case OpCode::min:
    case OpCode::max:
    case OpCode::sqrt:
    case OpCode::sin:
    case OpCode::cos:
    case OpCode::tan:
    case OpCode::asin:
    case OpCode::acos:
    case OpCode::atan:
    case OpCode::exp:
    case OpCode::ln:
    case OpCode::floor:
    case OpCode::ceil:
    case OpCode::round:
      arithmetic(op, out);
      return move_where_undefined(op, out);
  }
}

}  // namespace mm

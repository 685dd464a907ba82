// Body of Machine: what comes from outside the program: constants, cells, fields. Included by the files that
// instantiate it.
#pragma once
#include "evaluate/machine_impl.hpp"

namespace mm {

template <class Num>
void Machine<Num>::load_number(Value& out, const NumberConst& number) {
  out.kind = ValueKind::number;
  load_range(out.number, number.exact, number.bounds);
  out.exact = number.exact.is_point() ? &number.exact.lo_value : nullptr;
  out.state = defined;
}

template <class Num>
void Machine<Num>::load_constant(Value& out, const ConstValue& value, ValueKind kind) {
  if (value.number) {
    load_number(out, model_->numbers[value.number]);
    return;
  }
  out.kind = kind;
  out.symbols = value.symbols ? &model_->sets[value.symbols] : nullptr;
  out.state = out.symbols != nullptr ? defined : may_undef;
  out.direction = still;
}

template <class Num>
void Machine<Num>::load_cell(const Op& op, Value& out) {
  const Value& owner = registers_[op.a];
  out.kind = value_kind(op.result);
  out.exact = nullptr;
  out.direction = still;
  if ((owner.state & defined) == 0) {
    out.state = may_undef;
    if (out.kind == ValueKind::number) out.number = number_entire(&out.number);
    return;
  }
  const CellId cell = world_->cell(owner.entity, op.payload);
  if (log_ != nullptr) log_->add(cell);
  out.state = owner.state;
  if (out.kind == ValueKind::number) {
    const auto range = [&]() -> decltype(auto) {
      if constexpr (is_exact) {
        return box_->exact(cell);
      } else {
        return box_->number(cell);
      }
    };
    if constexpr (is_dual) {
      out.number = cell == active_ ? Num::variable(range()) : Num{range()};
    } else {
      out.number = range();
    }
    out.exact = box_->point(cell);
    if (number_empty(out.number)) out.state = may_undef;
  } else {
    out.symbols = box_->symbols(cell);
    out.cell = cell;
    if (out.symbols == nullptr) {
      static const SymbolicSet nowhere;  // a part without a place is at none that could be named
      if (op.result == TypeKind::place) {
        out.symbols = &nowhere;
      } else {
        out.state = may_undef;
      }
    }
  }
}

template <class Num>
void Machine<Num>::load_field(const Op& op, Value& out) {
  const Value& a = registers_[op.a];
  out.kind = value_kind(op.result);
  out.exact = nullptr;
  out.symbols = nullptr;
  out.direction = a.direction;
  out.state = a.state & may_undef;
  const Num* tag = nullptr;
  if ((a.state & defined) == 0 || a.symbols == nullptr) {
    out.state = may_undef;
    return;
  }
  if (a.symbols->all) {  // any designation at all: the field may be anything, or missing from its form
    static const SymbolicSet every_symbol{true, {}};
    out.state = anything & (defined | may_undef);
    out.number = number_entire(tag);
    out.symbols = &every_symbol;
    return;
  }
  bool first = true;
  for (const std::uint32_t member : a.symbols->members) {
    const DesignationField& field = designations_->field(member, op.payload);
    out.state |= field.state;
    if ((field.state & defined) == 0) continue;
    if (out.kind == ValueKind::number) {
      Num number;
      load_range(number, field.exact, field.number);
      out.number = first ? number : hull(out.number, number);
      out.exact = first ? field.point : nullptr;
    } else {
      out.symbols = first ? field.symbols : join(op.target, out.symbols, field.symbols);
    }
    first = false;
  }
  if constexpr (is_dual) {
    if (out.direction != still) out.number.slope = Num::entire();
  }
  if (first) out.state = may_undef;
}

template <class Num>
void Machine<Num>::form_is(const Op& op, Value& out) {
  const Value& a = registers_[op.a];
  Bits bits = a.state & may_undef;
  if ((a.state & defined) != 0 && a.symbols != nullptr) {
    if (a.symbols->all) bits |= undecided;
    for (const std::uint32_t member : a.symbols->members) {
      bits |= truth_bits((*designations_)[member].form == op.payload);
    }
  }
  set_truth(out, bits, a.direction != still ? may_move : still);
}

}  // namespace mm

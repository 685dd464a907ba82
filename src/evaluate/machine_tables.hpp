// Body of Machine: tables. A row may match, surely match, or not match over the box; the value is the hull of
// the rows that may be meant. Included by the files that instantiate it.
#pragma once
#include "evaluate/machine_impl.hpp"

namespace mm {

/// The least and the greatest of some constants, without a copy of any.
class Extremes {
 public:
  void add(const NumberConst& number) {
    is_one_ = is_one_ && number.exact.is_point() &&
              (low_ == nullptr || low_->exact.lo_value == number.exact.lo_value);
    if (low_ == nullptr || below(number, *low_, false)) low_ = &number;
    if (high_ == nullptr || below(*high_, number, true)) high_ = &number;
  }
  const NumberConst* low() const { return low_; }
  const NumberConst* high() const { return high_; }
  /// All of them are one number, and known.
  bool is_one() const { return low_ != nullptr && is_one_; }

 private:
  /// By the rounded bounds, which keep the order of the exact ones; by those where they are the same.
  static bool below(const NumberConst& a, const NumberConst& b, bool high) {
    const double x = high ? a.bounds.hi : a.bounds.lo(), y = high ? b.bounds.hi : b.bounds.lo();
    if (x != y) return x < y;
    const bool x_ends = high ? !a.exact.hi_infinite : !a.exact.lo_infinite;
    const bool y_ends = high ? !b.exact.hi_infinite : !b.exact.lo_infinite;
    if (!x_ends || !y_ends) return high ? x_ends && !y_ends : !x_ends && y_ends;
    return high ? a.exact.hi_value < b.exact.hi_value : a.exact.lo_value < b.exact.lo_value;
  }

  const NumberConst* low_ = nullptr;
  const NumberConst* high_ = nullptr;
  bool is_one_ = true;
};

/// The words and sizes of some constants, all together.
class Words {
 public:
  /// Null: nothing is said there. Gives how much was added.
  std::size_t add(const SymbolicSet* set) {
    if (set == nullptr) {
      lacking_ = true;
    } else if (first_ == nullptr) {
      first_ = set;
    } else if (set != first_ && !first_->all && (known_.empty() || set != known_.back())) {
      if (set->all) {
        first_ = set;
      } else {
        known_.push_back(set);
      }
    }
    return set != nullptr && !set->all ? set->members.size() : 1;
  }
  Bits state() const {
    return static_cast<Bits>((first_ != nullptr ? defined : 0) | (lacking_ ? may_undef : 0));
  }
  /// `made` holds the set where none of those that were added does.
  const SymbolicSet* set(SymbolicSet& made) {
    if (known_.empty() || first_->all) return first_;
    known_.push_back(first_);
    std::sort(known_.begin(), known_.end());
    known_.erase(std::unique(known_.begin(), known_.end()), known_.end());
    if (known_.size() == 1) return first_;
    made.all = false;
    made.members.clear();
    for (const SymbolicSet* one : known_)
      made.members.insert(made.members.end(), one->members.begin(), one->members.end());
    std::sort(made.members.begin(), made.members.end());
    made.members.erase(std::unique(made.members.begin(), made.members.end()), made.members.end());
    return &made;
  }

 private:
  const SymbolicSet* first_ = nullptr;  // or one of everything
  std::vector<const SymbolicSet*> known_;
  bool lacking_ = false;
};

/// "cell OP key" by the rounded bounds alone, which settle nearly every row.
inline Bits quick_bits(const NumberConst& cell, bool is_range, BinaryOp op, const Interval& key) {
  const Interval& number = cell.bounds;
  if (is_range) {
    const Interval low = Interval::of(number.lo(), std::nextafter(number.lo(), HUGE_VAL));
    const Interval high = Interval::of(std::nextafter(number.hi, -HUGE_VAL), number.hi);
    return and_bits(cell.exact.lo_infinite ? surely_yes : less_equal_bits(low, key),
                    cell.exact.hi_infinite ? surely_yes : less_equal_bits(key, high));
  }
  switch (op) {
    case BinaryOp::lt:
      return less_bits(number, key);
    case BinaryOp::le:
      return less_equal_bits(number, key);
    case BinaryOp::gt:
      return less_bits(key, number);
    case BinaryOp::ge:
      return less_equal_bits(key, number);
    default:
      return equal_bits(number, key);
  }
}

template <class Num>
void Machine<Num>::take_keys(const Lookup& lookup) {
  keys_.clear();
  for (const LookupCondition& condition : lookup.conditions) {
    const Value& value = registers_[condition.value];
    const bool number = value.kind == ValueKind::number || value.kind == ValueKind::truth;
    keys_.push_back(number && (value.state & undecided) != 0 ? bounds(number_of(value)) : Interval::entire());
  }
}

/// `cell OP value`, as "column op value" reads.
template <class Num>
Bits Machine<Num>::cell_bits(const TableDef& table, const LookupCondition& condition, const ConstValue& cell,
                             const Interval& key) {
  const Value& value = registers_[condition.value];
  if ((value.state & undecided) == 0) return may_undef;
  const Bits undefined = value.state & may_undef;
  if (cell.number) {
    const Bits quick = quick_bits(model_->numbers[cell.number], cell.is_range, condition.op, key);
    if (is_single(quick)) return quick | undefined;
  }
  Value constant;
  load_constant(constant, cell,
                table.columns[condition.column].type.kind == TypeKind::designation ? ValueKind::designation
                                                                                   : ValueKind::symbol);
  if ((constant.state & defined) == 0) return surely_no;
  if (constant.kind != ValueKind::number) return same_bits(constant, value) | undefined;
  if (cell.is_range) {
    const NumberConst& range = model_->numbers[cell.number];
    Value end;
    end.kind = ValueKind::number;
    end.state = defined;
    Bits bits = surely_yes;
    if (!range.exact.lo_infinite) {
      load_range(end.number, ExactInterval::point(range.exact.lo_value),
                 Interval::of(range.bounds.lo(), round_up(range.exact.lo_value)));
      end.exact = &range.exact.lo_value;
      bits = and_bits(bits, number_compare(OpCode::le, end, value));
    }
    if (!range.exact.hi_infinite) {
      load_range(end.number, ExactInterval::point(range.exact.hi_value),
                 Interval::of(round_down(range.exact.hi_value), range.bounds.hi));
      end.exact = &range.exact.hi_value;
      bits = and_bits(bits, number_compare(OpCode::le, value, end));
    }
    return bits | undefined;
  }
  switch (condition.op) {
    case BinaryOp::lt:
      return number_compare(OpCode::lt, constant, value) | undefined;
    case BinaryOp::le:
      return number_compare(OpCode::le, constant, value) | undefined;
    case BinaryOp::gt:
      return number_compare(OpCode::lt, value, constant) | undefined;
    case BinaryOp::ge:
      return number_compare(OpCode::le, value, constant) | undefined;
    default:
      return number_compare(OpCode::eq, constant, value) | undefined;
  }
}

template <class Num>
Bits Machine<Num>::row_bits(const TableDef& table, const Lookup& lookup, std::size_t row) {
  Bits bits = surely_yes;
  for (std::size_t i = 0; i < lookup.conditions.size(); ++i) {
    const LookupCondition& condition = lookup.conditions[i];
    bits = and_bits(bits, cell_bits(table, condition, table.rows[row][condition.column], keys_[i]));
    if (bits == surely_no) break;
  }
  --limits.steps;
  return bits;
}

template <class Num>
bool Machine<Num>::keys_move(const Lookup& lookup) const {
  for (const LookupCondition& condition : lookup.conditions) {
    if (moves(registers_[condition.value])) return true;
  }
  return false;
}

template <class Num>
void Machine<Num>::lookup(const Op& op, Value& out) {
  const Lookup& lookup = program_->lookups[op.payload];
  const TableDef& table = model_->tables[lookup.table];
  const bool first_only = lookup.takes_first();
  take_keys(lookup);
  const bool switched = is_dual && keys_move(lookup);
  const ValueKind kind = value_kind(op.result);
  bool any = false, sure = false;
  Bits undefined = 0;
  Extremes numbers;
  Words words;
  for (std::size_t i = 0; i < table.rows.size(); ++i) {
    const std::size_t row = first_only || rows_ == any_row ? i : (i + rows_) % table.rows.size();
    const Bits bits = row_bits(table, lookup, row);
    if (spent()) break;  // nothing is concluded any more
    undefined |= bits & may_undef;
    if ((bits & may_yes) == 0) continue;
    sure = sure || bits == surely_yes;
    const ConstValue& found = table.rows[row][lookup.column];
    if (found.number) {
      numbers.add(model_->numbers[found.number]);
    } else {
      const std::size_t size = words.add(found.symbols ? &model_->sets[found.symbols] : nullptr);
      limits.steps -= static_cast<std::int64_t>(any ? size : 0);
    }
    any = true;
    if ((first_only || rows_ != any_row) && bits == surely_yes) break;
  }
  if (!any || spent()) {
    out.kind = kind;
    out.state = may_undef;
    out.exact = nullptr;
    out.symbols = nullptr;
    out.direction = still;
    out.number = number_entire(&out.number);
    return;
  }
  if (words.state() != 0) {
    out.kind = kind;
    out.symbols = words.set(frame_->made[op.target]);
    out.state = words.state();
    out.direction = still;
    out.cell = {};
  }
  if (numbers.low() != nullptr) {
    load_number(out, *numbers.low());
    if (numbers.high() != numbers.low()) {
      Value high;
      load_number(high, *numbers.high());
      merge(op.target, out, high, false);
    }
  }
  if (undefined != 0 || (!sure && !covered(table, lookup))) out.state |= may_undef;
  if (!switched) return;
  out.direction = may_move;
  if constexpr (is_dual) {
    const bool same_everywhere = out.state == defined && numbers.is_one();
    if (!same_everywhere) out.number.slope = Num::entire();
  }
}

}  // namespace mm

#include "evaluate/room.hpp"

#include <algorithm>
#include <cmath>

#include "evaluate/machine_impl.hpp"
#include "evaluate/room_joins.hpp"

namespace mm {

namespace {

constexpr int most_within = 4;  // pieces of a range within another

template <class Num>
Num between(double lo, double hi) {
  return number_between(static_cast<const Num*>(nullptr), lo, hi);
}
template <>
Dual between<Dual>(double lo, double hi) {
  return Dual{Interval::of(lo, hi)};
}

/// Not of yes_no values.
bool is_of_numbers(const Program& program, const Op& comparison) {
  const auto is_number = [&](Reg reg) {
    return reg < program.types.size() && program.types[reg].is_number() &&
           program.types[reg].kind != TypeKind::boolean;
  };
  return is_number(comparison.a) && is_number(comparison.b);
}

bool is_guarded(const Op& op) {
  const bool may_be =
      op.code == OpCode::div || op.code == OpCode::pow || op.code == OpCode::sqrt || op.code == OpCode::ln;
  return may_be && op.payload != 0;
}

template <class Num>
bool is_moved(const Num&) {
  return false;
}
bool is_moved(const Dual& a) { return !a.is_still(); }

}  // namespace

/// In the measure that is looked for; notes the measure of what is open.
template <class Num>
bool RoomMachine<Num>::is_measured(const Op& op, const Measure& its) {
  const bool open = !is_single(machine_.truth_of(machine_.at(op.target)));
  const auto same = [&](const Measure& other) { return its.is_same(other); };
  if (open && std::none_of(open_.begin(), open_.end(), same)) open_.push_back(its);
  return measure_ && its.is_same(*measure_);
}

template <class Num>
Room<Num> RoomMachine<Num>::of_bits(Reg reg) const {
  const auto& value = machine_.at(reg);
  const Bits bits = machine_.truth_of(value);
  Room<Num> out;
  out.endless = (bits & may_yes) != 0;
  out.none = (bits & may_no) != 0;
  out.undefined = (bits & may_undef) != 0;
  out.jumps = !is_single(bits) && machine_.direction_of(value) != still;
  return out;
}

template <class Num>
Room<Num> RoomMachine<Num>::of_comparison(const Op& op) {
  if (!is_of_numbers(*program_, op) || !is_measured(op, measure_of(*program_, op))) return of_bits(op.target);
  const auto &a = machine_.at(op.a), &b = machine_.at(op.b);
  if ((a.state & b.state & defined) == 0) return undefined<Num>();
  Num apart = op.a == op.b ? between<Num>(0, 0) : sub(machine_.number_of(b), machine_.number_of(a));
  if (number_empty(apart)) return anything_at_all<Num>();
  if (op.code == OpCode::eq) apart = neg(abs(apart));
  Room<Num> out;
  add(out, apart);
  out.undefined = ((a.state | b.state) & may_undef) != 0;
  out.jumps = out.undefined;
  return out;
}

/// Of one row that all conditions are to meet.
template <class Num>
Room<Num> RoomMachine<Num>::of_row(const Lookup& lookup, std::size_t row) {
  const Model& model = bench_.index.model;
  Room<Num> out = endless<Num>();
  for (const LookupCondition& condition : lookup.conditions) {
    const ConstValue& cell = model.tables[lookup.table].rows[row][condition.column];
    const auto& value = machine_.at(condition.value);
    if (!cell.number || (value.state & defined) == 0) return anything_at_all<Num>();
    const NumberConst& known = model.numbers[cell.number];
    const Num key = machine_.number_of(value);
    Num range{};
    load_range(range, known.exact, known.bounds);
    if (number_empty(key)) return anything_at_all<Num>();
    const Interval ends = bounds(range);
    Room<Num> one;
    if (condition.op == BinaryOp::eq && cell.is_range) {
      one = endless<Num>();
      for (const bool low : {true, false}) {
        const double end = low ? ends.lo() : ends.hi;
        if (!std::isfinite(end)) continue;
        const ExactInterval at = ExactInterval::point(low ? known.exact.lo_value : known.exact.hi_value);
        Num stop{};
        load_range(stop, at, to_interval(at));
        Room<Num> side;
        add(side, low ? sub(key, stop) : sub(stop, key));
        one = least(one, side);
      }
    } else if (condition.op == BinaryOp::eq) {
      add(one, neg(abs(sub(key, range))));
    } else {
      const bool above = condition.op == BinaryOp::gt || condition.op == BinaryOp::ge;
      add(one, above ? sub(range, key) : sub(key, range));
    }
    one.undefined = one.jumps = (value.state & may_undef) != 0;
    out = least(out, one);
  }
  return out;
}

template <class Num>
Room<Num> RoomMachine<Num>::of_rows(const Op& op) {
  const Lookup& lookup = program_->lookups[op.payload];
  const TableDef& table = bench_.index.model.tables[lookup.table];
  for (const LookupCondition& condition : lookup.conditions) {
    const Type& type = table.columns[condition.column].type;
    if (!type.is_number() || type.kind == TypeKind::boolean) return of_bits(op.target);
    if (!is_measured(op, {type.dimension, type.kind == TypeKind::date})) return of_bits(op.target);
  }
  Room<Num> out = denied(endless<Num>());
  for (std::size_t row = 0; row < table.rows.size(); ++row) out = greatest(out, of_row(lookup, row));
  return out;
}

/// What a quantifier asks of what its variable stands for.
template <class Num>
Room<Num> RoomMachine<Num>::of_item(const Quantifier& q, bool some) {
  Room<Num> out = endless<Num>();
  if (q.where != no_block) out = of_block(q.where);
  if (!some) out = denied(out);
  if (q.body != no_block) out = some ? least(out, of_block(q.body)) : greatest(out, of_block(q.body));
  if (q.body == no_block && !some) out = endless<Num>();
  return out;
}

template <class Num>
Room<Num> RoomMachine<Num>::of_items(const Op& op) {
  const Quantifier& q = program_->quantifiers[op.payload];
  if (q.reach_from != no_reg && machine_.at(q.reach_from).state != defined) return of_bits(op.target);
  std::vector<EntityId> scratch;
  const auto domain =
      machine_.domain(q, scratch, static_cast<std::size_t>(std::max<std::int64_t>(machine_.limits.steps, 0)));
  const std::vector<EntityId> items(domain.begin(), domain.end());
  const bool some = op.code == OpCode::some_entity;
  Room<Num> out = some ? denied(endless<Num>()) : endless<Num>();
  for (const EntityId item : items) {
    if (machine_.spent()) return anything_at_all<Num>();
    machine_.bind(q.slot, item);
    const Room<Num> one = of_item(q, some);
    out = some ? greatest(out, one) : least(out, one);
  }
  return out;
}

/// The range in pieces: the least of all is the least of what it is in each of them. One that the range may
/// miss says what it says or nothing.
template <class Num>
Room<Num> RoomMachine<Num>::of_range(const Op& op) {
  const Quantifier& q = program_->quantifiers[op.payload];
  const auto &low = machine_.at(q.lo), &high = machine_.at(q.hi);
  if ((low.state & high.state & defined) == 0) return undefined<Num>();
  const Num lo = machine_.number_of(low), hi = machine_.number_of(high);
  const Interval from = bounds(lo), to = bounds(hi);
  const bool some = op.code == OpCode::some_number;
  if (from.is_empty() || to.is_empty()) return of_bits(op.target);
  const double first = from.lo(), last = to.hi;
  Room<Num> out = endless<Num>();
  const int most = depth_ > 0 ? std::min(range_pieces_, most_within) : range_pieces_;
  const int count = first < last && std::isfinite(first) && std::isfinite(last) ? most : 1;
  const bool is_there = from.hi <= to.lo();
  const auto at = [&](const Num& z) {
    machine_.bind_number(q.slot, z);
    const Room<Num> one = of_item(q, some);
    return some ? denied(one) : one;
  };
  ++depth_;
  for (int i = 0; i < count && first <= last && !machine_.spent(); ++i) {
    const double step = count > 1 ? (last - first) / count : 0;
    const Interval piece = Interval::of(i == 0 ? first : std::min(first + i * step, last),
                                        i == count - 1 ? last : std::min(first + (i + 1) * step, last));
    Room<Num> one = at(between<Num>(piece.lo(), piece.hi));
    const bool met = is_there && piece.lo() <= to.lo() && from.hi <= piece.hi;
    one.endless = one.endless || !met;
    out = least(out, one);
  }
  if (is_there) out = least(out, least(at(lo), at(hi)));
  --depth_;
  out.undefined = out.undefined || ((low.state | high.state) & may_undef) != 0;
  out.jumps = out.jumps || out.undefined || is_moved(lo) || is_moved(hi);
  return some ? denied(out) : out;
}

template <class Num>
Room<Num> RoomMachine<Num>::of_op(const Op& op) {
  switch (op.code) {
    case OpCode::lt:
    case OpCode::le:
    case OpCode::eq:
      return of_comparison(op);
    case OpCode::logical_not:
      return denied(rooms_[op.a]);
    case OpCode::logical_and:
      return least(rooms_[op.a], rooms_[op.b]);
    case OpCode::logical_or:
      return greatest(rooms_[op.a], rooms_[op.b]);
    case OpCode::choose: {
      const Room<Num>& condition = rooms_[op.a];
      Room<Num> out = greatest(least(condition, rooms_[op.b]), least(denied(condition), rooms_[op.c]));
      out.undefined = out.undefined || condition.undefined;
      return out;
    }
    case OpCode::in_table:
      return of_rows(op);
    case OpCode::every_entity:
    case OpCode::some_entity:
      return of_items(op);
    case OpCode::every_number:
    case OpCode::some_number:
      return of_range(op);
    default:
      return of_bits(op.target);
  }
}

/// A guard takes something of an operand's range away, where another comparison decides: there the result
/// says nothing, and a margin would.
template <class Num>
bool RoomMachine<Num>::is_cut(const Op& op) const {
  if (is_over_entities(op.code) && op.result != TypeKind::boolean) {
    const Quantifier& q = program_->quantifiers[op.payload];
    for (const BlockIndex block : {q.where, q.body}) {
      if (block == no_block) continue;
      const auto& ops = program_->blocks[block].ops;
      if (std::any_of(ops.begin(), ops.end(),
                      [](const Op& inner) { return is_guarded(inner) || is_quantifier(inner.code); }))
        return true;
    }
    return false;
  }
  if (!is_guarded(op)) return false;
  const auto& operand = machine_.at(op.code == OpCode::div ? op.b : op.a);
  const Interval range = bounds(machine_.number_of(operand));
  return op.code == OpCode::pow || range.is_empty() ||
         ((op.payload & never_zero) != 0 && range.contains(0)) ||
         ((op.payload & never_negative) != 0 && range.lo() < 0) ||
         ((op.payload & never_positive) != 0 && range.hi > 0);
}

template <class Num>
Room<Num> RoomMachine<Num>::of_block(BlockIndex index) {
  machine_.run(index);
  if (machine_.spent()) return anything_at_all<Num>();
  const Block& block = program_->blocks[index];
  for (const Op& op : block.ops) {
    if (is_cut(op)) return anything_at_all<Num>();
    if (op.result == TypeKind::boolean) rooms_[op.target] = of_op(op);
  }
  return rooms_[block.result];
}

template <class Num>
Room<Num> RoomMachine<Num>::room(const Claim& claim, const std::optional<Measure>& measure) {
  measure_ = measure;
  open_.clear();
  depth_ = 0;
  Claim::Part parts[3];
  const std::size_t count = claim.parts(parts);
  Room<Num> out;
  for (std::size_t p = 0; p < count; ++p) {
    machine_.start(*parts[p].program, *claim.binding, bench_.world, bench_.box);
    program_ = parts[p].program;
    rooms_.assign(program_->registers, anything_at_all<Num>());
    const Room<Num> one = of_block(parts[p].block);
    const Room<Num> own = p + 1 < count ? denied(one) : one;
    out = p == 0 ? own : greatest(out, own);
  }
  if (machine_.spent()) return anything_at_all<Num>();
  return out;
}

template class RoomMachine<Interval>;
template class RoomMachine<ExactInterval>;
template class RoomMachine<Dual>;

}  // namespace mm

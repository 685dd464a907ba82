// Body of Machine: quantifiers over parts and faces. Which entities are meant is known (the graph is fixed),
// only `where` may be open: then counts, sums and extremes cover the item being there and not. Included by
// the files that instantiate it.
#pragma once
#include "evaluate/counted_sheets.hpp"
#include "evaluate/machine_impl.hpp"

namespace mm {

template <class Num>
std::span<const EntityId> Machine<Num>::domain(const Quantifier& q, std::vector<EntityId>& scratch,
                                               std::size_t most) {
  if (q.many_slot != no_reg) {
    if (binding_ == nullptr || q.many_slot >= binding_->lists.size()) return {};
    return binding_->lists[q.many_slot];
  }
  if (q.reach_from == no_reg) return index_->instances_of(q.kind);
  const Value& from = registers_[q.reach_from];
  if ((from.state & defined) == 0) return {};
  // what is known counts as if it had been looked for, so that no answer hangs on what ran before
  auto known = reached_.find({&q, from.entity});
  if (known != reached_.end() && !known->second.all && known->second.visited <= most) {
    reached_.erase(known);
    known = reached_.end();
  }
  scratch.clear();
  const std::size_t visited =
      known != reached_.end() ? known->second.visited
                              : find_reachable(*index_, from.entity, q.reach_through, q.kind, most, scratch);
  limits.steps -= static_cast<std::int64_t>(visited > most ? most + 1 : visited);
  if (visited > most) {
    // as far as it was looked for: as long as no more steps are there, it is not looked for again
    if (known == reached_.end() && reached_count_ < most_reached) {
      ++reached_count_;
      reached_.emplace(std::pair(&q, from.entity), Reached{{}, visited, false});
    }
    return {};
  }
  if (known != reached_.end()) return known->second.entities;
  if (reached_count_ + scratch.size() > most_reached) return scratch;
  reached_count_ += scratch.size() + 1;
  return reached_.emplace(std::pair(&q, from.entity), Reached{scratch, visited, true}).first->second.entities;
}

template <class Num>
Bits Machine<Num>::where_bits(const Quantifier& q, Direction& direction, bool& ran) {
  direction = still;
  if (q.where == no_block) return surely_yes;
  const Value& where = run_item(q.where, q.slot, ran);
  direction = direction_of(where);
  return truth_of(where);
}

/// A quantifier hangs on what its blocks hang on, its own variable aside.
template <class Num>
void Machine<Num>::quantify(const Op& op, Value& out) {
  const Quantifier& q = program_->quantifiers[op.payload];
  const Hangs before = std::exchange(seen_, on_nothing);
  if (is_over_range(op.code)) {
    quantify_range(op, q, out);
    if (!is_single(out.state)) seen_ |= on_fineness;  // with more pieces it may be decided
  } else {
    quantify_entities(op, q, out);
  }
  Hangs on = outside_of(seen_, q.slot);
  for (const Reg reg : {q.reach_from, q.lo, q.hi}) {
    if (reg != no_reg) on |= hangs_[reg];
  }
  hangs_[op.target] = spent() ? on_anything : on;
  seen_ = before;
}

template <class Num>
void Machine<Num>::quantify_entities(const Op& op, const Quantifier& q, Value& out) {
  const bool from_nothing = q.reach_from != no_reg && (registers_[q.reach_from].state & defined) == 0;
  std::vector<EntityId> scratch;
  Entities entities;
  if (!spent()) entities = domain(q, scratch, static_cast<std::size_t>(limits.steps));
  if (from_nothing || spent()) {
    out.number = number_entire(&out.number);
    out.exact = nullptr;
    const bool is_truth = op.code == OpCode::every_entity || op.code == OpCode::some_entity;
    out.kind = is_truth ? ValueKind::truth : ValueKind::number;
    out.state = from_nothing ? Bits{may_undef} : static_cast<Bits>(is_truth ? anything : defined | may_undef);
    out.direction = may_move;
    return;
  }
  switch (op.code) {
    case OpCode::every_entity:
    case OpCode::some_entity:
      return all_or_some(op, q, entities, out);
    case OpCode::count_entities:
      return count(q, entities, out);
    default:
      return aggregate(op, q, entities, out);
  }
}

template <class Num>
void Machine<Num>::all_or_some(const Op& op, const Quantifier& q, Entities entities, Value& out) {
  const bool some = op.code == OpCode::some_entity;
  ItemRuns runs;
  Bits total = some ? surely_no : surely_yes;
  Direction moved = still;
  for (const EntityId entity : entities) {
    locals_[q.slot] = entity;
    Direction direction;
    const Bits where = where_bits(q, direction, runs.where);
    if (where == surely_no) continue;
    Bits item = surely_yes;
    if (q.body != no_block) {
      const Value& body = run_item(q.body, q.slot, runs.body);
      item = truth_of(body);
      moved |= direction_of(body);
    }
    if (spent()) item = anything;
    if (some) {
      moved |= direction;
      total = or_bits(total, and_bits(where, item));
      if (total == surely_yes) break;
    } else {
      moved |= turned(direction);
      total = and_bits(total, or_bits(not_bits(where), item));
      if (total == surely_no) break;
    }
    if (spent()) {
      total = anything;
      moved = may_move;
      break;
    }
  }
  set_truth(out, total, moved);
}

template <class Num>
void Machine<Num>::count(const Quantifier& q, Entities entities, Value& out) {
  ItemRuns runs;
  double lo = 0, hi = 0;
  Bits undefined = 0;
  Direction moved = still;
  for (const EntityId entity : entities) {
    locals_[q.slot] = entity;
    Direction direction = may_move;
    const Bits where = spent() ? anything : where_bits(q, direction, runs.where);
    if (where == surely_yes) lo += 1;
    if ((where & may_yes) != 0) hi += 1;
    undefined |= where & may_undef;
    moved |= spent() ? may_move : direction;
  }
  const Num* tag = nullptr;
  out.kind = ValueKind::number;
  out.exact = nullptr;
  out.number = number_integer(tag, lo, hi);
  out.state = static_cast<Bits>(defined | undefined);
  if constexpr (is_dual) {
    out.number.slope =
        number_between(static_cast<const Base*>(nullptr), (moved & may_fall) != 0 ? -HUGE_VAL : 0,
                       (moved & may_rise) != 0 ? HUGE_VAL : 0);
    if (undefined != 0 && moved != still) out.number.slope = Num::entire();
  }
}

/// Whether the item's sheet is counted already. Another candidate there need not be: its slot is noted as
/// read.
template <class Num>
bool Machine<Num>::is_counted(const CountedSheets& sheets, EntityId item) {
  if (!sheets.has(item)) return false;
  const auto quantity = static_cast<std::uint32_t>(PartProperty::quantity);
  if (log_ != nullptr) log_->add(world_->cell(index_->part_of(item), quantity));
  return true;
}

/// sum, min and max. `inner` holds what surely takes part, `outer` what may, `perhaps` what may of a sheet
/// that counts once.
template <class Num>
void Machine<Num>::aggregate(const Op& op, const Quantifier& q, Entities entities, Value& out) {
  ItemRuns runs;
  const Num* tag = nullptr;
  const Num zero = number_integer(tag, 0, 0);
  const bool is_sum = op.code == OpCode::sum_entities;
  const auto combine = [&](const Num& a, const Num& b) {
    if (is_sum) return add(a, b);
    return op.code == OpCode::min_entities ? min(a, b) : max(a, b);
  };
  Num inner = zero, outer = zero;
  bool any_inner = false, any_outer = false, moved = false, nowhere = false;
  Bits undefined = 0;
  CountedSheets sheets(q, *world_);
  std::map<std::uint32_t, Num> perhaps;  // by sheet
  for (const EntityId entity : entities) {
    if (is_counted(sheets, entity)) continue;
    locals_[q.slot] = entity;
    Direction direction;
    const Bits where = where_bits(q, direction, runs.where);
    if (where == surely_no) continue;
    if (where == surely_yes) sheets.add(entity);
    const Value& body = run_item(q.body, q.slot, runs.body);
    if (spent()) undefined |= may_undef;
    undefined |= (where | body.state) & may_undef;
    moved = moved || direction != still;
    const auto earlier = sheets.any() ? perhaps.find(sheets.sheet_of(entity)) : perhaps.end();
    if ((body.state & undecided) == 0) {
      nowhere = nowhere || (where == surely_yes && earlier == perhaps.end());
      continue;
    }
    Num number = number_of(body);
    if (earlier != perhaps.end()) number = hull(earlier->second, number);
    if (where == surely_yes) {
      inner = any_inner ? combine(inner, number) : number;
      any_inner = true;
      if (earlier != perhaps.end()) perhaps.erase(earlier);
    } else if (sheets.any()) {
      perhaps.insert_or_assign(sheets.sheet_of(entity), number);
    } else if (is_sum) {
      outer = add(outer, hull(number, zero));
      any_outer = true;
    } else {
      outer = any_outer ? hull(outer, number) : number;
      any_outer = true;
    }
    if (spent()) break;
  }
  for (const auto& [sheet, number] : perhaps) {
    outer = add(outer, hull(number, zero));
    any_outer = true;
  }
  out.kind = ValueKind::number;
  out.exact = nullptr;
  out.state = static_cast<Bits>(defined | undefined);
  out.direction = still;
  if (is_sum) {
    out.number = any_outer ? add(inner, outer) : inner;
  } else if (any_inner) {
    out.number = any_outer ? hull(inner, combine(inner, outer)) : inner;
  } else if (any_outer) {
    out.number = outer;
    out.state |= may_undef;  // there may be none
  } else {
    nowhere = true;
  }
  if (spent()) out.number = number_entire(tag);
  if (nowhere) {
    out.state = may_undef;
    out.number = number_entire(tag);
  }
  if constexpr (is_dual) {
    if (moved) out.number.slope = Num::entire();
  }
}

}  // namespace mm

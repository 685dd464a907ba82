// Body of Machine: which cells a result needed, and where undefined began, by going back over the registers
// from the result. Done only for what is reported. Included by the files that instantiate it.
#pragma once
#include "evaluate/counted_sheets.hpp"
#include "evaluate/machine_impl.hpp"

namespace mm {

template <class Num>
bool Machine<Num>::decides(const Op& op, Reg side) const {
  return truth_of(registers_[side]) == (op.code == OpCode::logical_and ? surely_no : surely_yes);
}

/// The weakest grade of evidence behind each register of a block.
template <class Num>
std::vector<Grade> Machine<Num>::weakest_grades(const Block& block) const {
  std::vector<Grade> out(program_->registers, Grade::measured);
  for (const Op& op : block.ops) {
    Grade& grade = out[op.target];
    for (const Reg reg : {op.a, op.b, op.c})
      if (reg != no_reg) grade = std::max(grade, out[reg]);
    if (op.code == OpCode::attribute && (registers_[op.a].state & defined) != 0) {
      const Build& build = index_->build;
      for (GivenId g = build.cells[world_->cell(registers_[op.a].entity, op.payload)].given; g;
           g = build.givens[g].also)
        grade = std::max(grade, build.givens[g].grade);
    } else if (op.code == OpCode::logical_and || op.code == OpCode::logical_or) {
      const bool left = decides(op, op.a), right = decides(op, op.b);
      if (left || right)
        grade = left && right ? std::min(out[op.a], out[op.b]) : left ? out[op.a] : out[op.b];
    } else if (is_quantifier(op.code)) {
      grade = Grade::hearsay;  // of many items; what stands beside it is easier to see
    }
  }
  return out;
}

/// Marks the registers that the block's result depends on, given the values that they have now. Of two sides
/// that each decide alone, the one that is known better.
template <class Num>
void Machine<Num>::slice(const Block& block, std::vector<char>& needed) {
  needed.assign(program_->registers, 0);
  needed[block.result] = 1;
  std::vector<Grade> grades;
  for (auto op = block.ops.rbegin(); op != block.ops.rend(); ++op) {
    if (needed[op->target] == 0) continue;
    const auto need = [&](Reg reg) {
      if (reg != no_reg) needed[reg] = 1;
    };
    if (op->code == OpCode::logical_and || op->code == OpCode::logical_or) {
      const bool left = decides(*op, op->a), right = decides(*op, op->b);
      if (left && right && grades.empty()) grades = weakest_grades(block);
      const bool right_known_better = left && right && grades[op->b] < grades[op->a];
      if (!right || (left && !right_known_better)) need(op->a);
      if (!left || right_known_better) need(op->b);
    } else if (op->code == OpCode::choose) {
      const Bits condition = truth_of(registers_[op->a]);
      need(op->a);
      if ((condition & may_yes) != 0) need(op->b);
      if ((condition & may_no) != 0) need(op->c);
    } else if (op->code == OpCode::lookup || op->code == OpCode::in_table) {
      for (const LookupCondition& condition : program_->lookups[op->payload].conditions)
        need(condition.value);
    } else if (is_quantifier(op->code)) {
      const Quantifier& q = program_->quantifiers[op->payload];
      for (const Reg reg : {q.reach_from, q.lo, q.hi}) need(reg);
      for (const Reg reg : outer_registers(q)) need(reg);
    } else {
      need(op->a);
      need(op->b);
      need(op->c);
    }
  }
}

/// The operation's result is undefined somewhere though what it works on is not.
template <class Num>
bool Machine<Num>::starts_undefined(const Op& op) const {
  if ((registers_[op.target].state & may_undef) == 0) return false;
  const auto clean = [&](Reg reg) { return reg == no_reg || (registers_[reg].state & may_undef) == 0; };
  if (op.code == OpCode::lookup || op.code == OpCode::in_table) {
    for (const LookupCondition& condition : program_->lookups[op.payload].conditions) {
      if (!clean(condition.value)) return false;
    }
    return true;
  }
  if (is_quantifier(op.code)) {
    const Quantifier& q = program_->quantifiers[op.payload];
    return clean(q.reach_from) && clean(q.lo) && clean(q.hi);
  }
  return clean(op.a) && clean(op.b) && clean(op.c);
}

template <class Num>
UndefinedAt Machine<Num>::asked_at(const Op& op) const {
  UndefinedAt out;
  out.found = true;
  out.code = op.code;
  if (op.a != no_reg) out.entity = registers_[op.a].entity;
  if (op.code == OpCode::div) {
    const Interval divisor = bounds(registers_[op.b].number);
    for (const Block& block : program_->blocks)
      for (const Op& step : block.ops)
        if (step.target == op.b && step.code == OpCode::number)
          out.by_zero = divisor.lo() == 0 && divisor.hi == 0;
  }
  if (is_over_entities(op.code)) {
    out.over = &program_->quantifiers[op.payload];
    out.program = program_;
    out.surely = (registers_[op.target].state & defined) == 0;
  }
  if (op.code == OpCode::lookup || op.code == OpCode::in_table) {
    const Lookup& lookup = program_->lookups[op.payload];
    out.table = lookup.table.index;
    if (lookup.conditions.empty()) return out;
    const auto is_incomplete = [&](const LookupCondition& one) {
      const Value& key = registers_[one.value];
      return key.kind == ValueKind::designation && key.symbols != nullptr &&
             key.symbols->members.size() == 1 && designations_->is_incomplete(key.symbols->members[0]);
    };
    auto asked = std::find_if(lookup.conditions.begin(), lookup.conditions.end(), is_incomplete);
    out.incomplete_size = asked != lookup.conditions.end();
    if (!out.incomplete_size) asked = lookup.conditions.begin();
    out.column = asked->column;
    const Value& key = registers_[asked->value];
    if (key.kind == ValueKind::number) {
      out.key = bounds(key.number);
    } else if (key.symbols != nullptr && !key.symbols->members.empty()) {
      out.symbol = key.symbols->members[0];
    }
  }
  return out;
}

template <class Num>
void Machine<Num>::trace_reads(BlockIndex index, ReadLog& reads, UndefinedAt* undefined) {
  const Block& block = program_->blocks[index];
  std::vector<char> needed;
  slice(block, needed);
  for (const Op& op : block.ops) {
    if (needed[op.target] == 0) continue;
    if (op.code == OpCode::attribute) {
      const Value& owner = registers_[op.a];
      if ((owner.state & defined) != 0) reads.add(world_->cell(owner.entity, op.payload));
    } else if (is_quantifier(op.code) && !spent()) {
      trace_quantifier(op, reads, undefined);
    }
    if (undefined != nullptr && !undefined->found && starts_undefined(op)) *undefined = asked_at(op);
  }
}

/// Of the items that decide alone the first of those that are known best; none where none does.
template <class Num>
EntityId Machine<Num>::best_known(const Quantifier& q, std::span<const EntityId> entities, Bits decided) {
  EntityId best;
  Grade best_grade = Grade::hearsay;
  for (const EntityId entity : entities) {
    locals_[q.slot] = entity;
    Direction direction;
    bool ran = false;
    if (where_bits(q, direction, ran) != surely_yes) continue;
    if ((q.body == no_block ? surely_yes : truth(q.body)) != decided) continue;
    Grade grade = Grade::measured;
    for (const BlockIndex index : {q.where, q.body})
      if (index != no_block) {
        const Block& block = program_->blocks[index];
        grade = std::max(grade, weakest_grades(block)[block.result]);
      }
    if (!best || grade < best_grade) {
      best = entity;
      best_grade = grade;
    }
    if (best_grade == Grade::measured || spent()) break;
  }
  return best;
}

template <class Num>
void Machine<Num>::trace_quantifier(const Op& op, ReadLog& reads, UndefinedAt* undefined) {
  const Quantifier& q = program_->quantifiers[op.payload];
  const Value& result = registers_[op.target];
  if ((result.state & may_undef) == 0) undefined = nullptr;
  const auto one = [&](bool whole) {
    Direction direction;
    bool ran = false;
    const Bits where = where_bits(q, direction, ran);
    if (q.where != no_block) trace_reads(q.where, reads, undefined);
    if (where == surely_no && !whole) return where;
    if (q.body == no_block) return where;
    run(q.body);
    trace_reads(q.body, reads, undefined);
    return where;
  };
  if (is_over_range(op.code)) {
    if ((registers_[q.lo].state & registers_[q.hi].state & defined) == 0) return;
    const Num* tag = nullptr;
    slot_numbers_[q.slot] = range_piece(tag, number_of(registers_[q.lo]), number_of(registers_[q.hi]));
    one(true);
    return;
  }
  const Bits decided = result.kind == ValueKind::truth ? result.state : Bits{0};
  std::vector<EntityId> scratch;
  const std::span<const EntityId> entities = domain(q, scratch);
  // one item may decide the answer alone: one that fails for `every`, that holds for `some`
  if ((op.code == OpCode::every_entity && decided == surely_no) ||
      (op.code == OpCode::some_entity && decided == surely_yes)) {
    if (const EntityId entity = best_known(q, entities, decided)) {
      locals_[q.slot] = entity;
      one(false);
      return;
    }
  }
  CountedSheets sheets(q, *world_);
  for (const EntityId entity : entities) {
    if (spent()) return;
    if (sheets.has(entity)) continue;
    locals_[q.slot] = entity;
    if (one(false) == surely_yes) sheets.add(entity);
  }
}

}  // namespace mm

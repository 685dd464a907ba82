// Where a claim works out differences that may turn over.
#include <algorithm>
#include <cmath>

#include "evaluate/crossings.hpp"
#include "evaluate/skeleton.hpp"

namespace mm {

namespace {

constexpr std::size_t most_sides = 48;
constexpr std::size_t most_rows = 16;  // of one table
constexpr std::size_t most_items = 8;  // of one quantifier

}  // namespace

void Crossings::find_sides() {
  for (std::size_t p = 0; p < part_count_; ++p) {
    bench_->fast.start(*parts_[p].program, *claim_->binding, bench_->world, bench_->box);
    bench_->fast.run(parts_[p].block);
    find_sides({p, parts_[p].block, nullptr, {}});
  }
  if (sides_.size() > most_sides) sides_.resize(most_sides);
}

void Crossings::find_sides(const Place& place) {
  const Program& program = *parts_[place.part].program;
  const Block& block = program.blocks[place.block];
  const std::vector<Reg> inside_of = inside_of_abs(block, program.registers);
  for (const Op& op : block.ops)
    if (sides_.size() < most_sides) find_sides(place, op, inside_of);
}

void Crossings::find_sides(const Place& place, const Op& op, const std::vector<Reg>& inside_of) {
  switch (op.code) {
    case OpCode::lt:
    case OpCode::le:
    case OpCode::eq:
      if (is_single(bench_->fast.truth_of(bench_->fast.at(op.target)))) return;
      if (inside_of[op.a] == no_reg) {
        sides_.push_back({place, op.a, op.b, 1, {}, place.over == nullptr});
      } else {
        sides_.push_back({place, op.b, inside_of[op.a], 1, {}, place.over == nullptr});
        sides_.push_back({place, op.b, inside_of[op.a], -1, {}, place.over == nullptr});
      }
      return;
    case OpCode::div:
      sides_.push_back({place, op.b, no_reg, 1, {}});
      return;
    case OpCode::sqrt:
    case OpCode::ln:
    case OpCode::pow:
      sides_.push_back({place, op.a, no_reg, 1, {}});
      return;
    case OpCode::floor:
    case OpCode::ceil:
      return add_whole_numbers(place, op.a);
    case OpCode::lookup:
    case OpCode::in_table:
      return add_table(place, op);
    default:
      if (is_over_entities(op.code) && place.over == nullptr) add_items(place, op);
  }
}

/// What a quantifier asks of each of its items.
void Crossings::add_items(const Place& outer, const Op& op) {
  const Quantifier& q = parts_[outer.part].program->quantifiers[op.payload];
  std::vector<EntityId> scratch;
  const auto domain = bench_->fast.domain(q, scratch);
  for (std::size_t i = 0; i < std::min(domain.size(), most_items); ++i) {
    bench_->fast.bind(q.slot, domain[i]);
    for (const BlockIndex block : {q.where, q.body}) {
      if (block == no_block) continue;
      bench_->fast.run(block);
      find_sides({outer.part, block, &q, domain[i]});
    }
  }
}

/// The first and the last that the operand may be.
void Crossings::add_whole_numbers(const Place& place, Reg operand) {
  const Interval range = bounds(bench_->fast.number_of(bench_->fast.at(operand)));
  const bool least = std::isfinite(range.lo()), most = std::isfinite(range.hi);
  if (least) sides_.push_back({place, operand, no_reg, 1, ceil(exact(range.lo()))});
  if (most) sides_.push_back({place, operand, no_reg, 1, floor(exact(range.hi))});
  if (!least && !most) sides_.push_back({place, operand, no_reg, 1, {}});
}

void Crossings::add_table(const Place& place, const Op& op) {
  const Lookup& lookup = parts_[place.part].program->lookups[op.payload];
  const TableDef& table = bench_->index.model.tables[lookup.table];
  const bool asked = op.code == OpCode::in_table && place.over == nullptr;
  for (const LookupCondition& condition : lookup.conditions) {
    const auto& key = bench_->fast.at(condition.value);
    if (key.kind != ValueKind::number) continue;
    const Interval range = bounds(bench_->fast.number_of(key));
    std::size_t rows = 0;
    for (const auto& row : table.rows) {
      const NumberId number = row[condition.column].number;
      if (!number) continue;
      const ExactInterval& cell = bench_->index.model.numbers[number].exact;
      const auto add = [&](const Rational& at) {
        if (!intersect(range, Interval::of(round_down(at), round_up(at))).is_empty() && ++rows <= most_rows)
          sides_.push_back({place, condition.value, no_reg, 1, at, asked});
      };
      if (!cell.lo_infinite) add(cell.lo_value);
      if (!cell.hi_infinite && !cell.is_point()) add(cell.hi_value);
    }
  }
}

}  // namespace mm

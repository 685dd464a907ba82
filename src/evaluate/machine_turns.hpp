// Body of an exact machine: where, along a quantifier's range, its comparisons turn over. A `where` that one
// point alone meets is met by no piece of the range, and by no point that halving comes to. Included by the
// file that instantiates it.
#pragma once
#include "evaluate/machine_impl.hpp"

namespace mm {

/// What is to be nothing where a comparison turns over, or where a table's row begins or ends, in the order
/// of the blocks; none where it is not known at z.
template <class Num>
template <class Plain>
std::vector<std::optional<Rational>> Machine<Num>::slacks_at(const Quantifier& q, const Num& z) {
  constexpr std::size_t most_rows = 16;
  std::vector<std::optional<Rational>> out;
  slot_numbers_[q.slot] = z;
  const auto known = [&](Reg reg) {
    const Value& value = registers_[reg];
    return value.kind == ValueKind::number && value.state == defined && number_of(value).is_point();
  };
  const auto keep = [&](Reg a, const Rational& lower, bool is_known = true) {
    out.emplace_back();
    if (is_known && known(a)) out.back() = number_of(registers_[a]).lo_value - lower;
  };
  const auto keep_rows = [&](const Lookup& lookup) {
    const TableDef& table = model_->tables[lookup.table];
    for (const LookupCondition& condition : lookup.conditions) {
      if (table.rows.size() > most_rows || !table.columns[condition.column].type.is_number()) continue;
      for (const auto& row : table.rows) {
        const ExactInterval& cell = model_->numbers[row[condition.column].number].exact;
        keep(condition.value, cell.lo_value, !cell.lo_infinite);
        if (!cell.is_point()) keep(condition.value, cell.hi_value, !cell.hi_infinite);
      }
    }
  };
  for (const BlockIndex index : {q.where, q.body}) {
    if (index == no_block) continue;
    bool ran = false;
    run_item(index, q.slot, ran);
    for (const Op& op : program_->blocks[index].ops) {
      if (is_comparison(op.code))
        keep(op.a, known(op.b) ? number_of(registers_[op.b]).lo_value : Rational(), known(op.b));
      if (op.code == OpCode::abs) keep(op.a, 0);
      if (op.code == OpCode::lookup || op.code == OpCode::in_table) keep_rows(program_->lookups[op.payload]);
    }
  }
  return out;
}

/// Inside the range; of comparisons that are straight lines along it.
template <class Num>
template <class Plain>
std::vector<Num> Machine<Num>::turns_along(const Quantifier& q, const Num& range) {
  constexpr std::size_t most = 24;
  std::vector<Num> out;
  const auto low = slacks_at(q, range_low(range)), high = slacks_at(q, range_high(range));
  for (std::size_t i = 0; i < low.size() && out.size() < most; ++i) {
    if (!low[i] || !high[i] || low[i]->sign() * high[i]->sign() >= 0) continue;
    out.push_back(
        Num::point(range.lo_value + (range.hi_value - range.lo_value) * *low[i] / (*low[i] - *high[i])));
  }
  return out;
}

}  // namespace mm

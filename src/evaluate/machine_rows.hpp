// Body of Machine: which rows of a table are met, and whether some row is whatever the key is. Included by
// the files that instantiate it.
#pragma once
#include <set>

#include "evaluate/machine_impl.hpp"
#include "evaluate/table_counts.hpp"

namespace mm {

/// One condition, and every value that its key may have is in some row, though no single row is sure.
template <class Num>
bool Machine<Num>::covered(const TableDef& table, const Lookup& lookup) {
  if (lookup.conditions.size() != 1) return false;
  const LookupCondition& condition = lookup.conditions[0];
  const Value& key = registers_[condition.value];
  if (condition.op != BinaryOp::eq || (key.state & may_undef) != 0) return false;
  const auto has_row = [&](const auto& is_it) {
    limits.steps -= static_cast<std::int64_t>(table.rows.size());
    return std::any_of(table.rows.begin(), table.rows.end(),
                       [&](const auto& row) { return is_it(row[condition.column]); });
  };
  if (key.kind == ValueKind::symbol || key.kind == ValueKind::designation) {
    if (key.symbols == nullptr || key.symbols->all || key.symbols->members.empty()) return false;
    SymbolicSet one;
    Value single = key, constant;
    single.symbols = &one;
    return std::all_of(key.symbols->members.begin(), key.symbols->members.end(), [&](std::uint32_t member) {
      one.members.assign(1, member);
      return has_row([&](const ConstValue& cell) {
        load_constant(constant, cell, key.kind);
        return (constant.state & defined) != 0 && same_bits(constant, single) == surely_yes;
      });
    });
  }
  const Interval range = bounds(number_of(key));
  const bool counts =
      condition.value < program_->types.size() && program_->types[condition.value].kind == TypeKind::count;
  if (counts && range.hi - range.lo() < most_counts) {
    limits.steps -= most_counts * static_cast<std::int64_t>(table.rows.size());
    if (has_counts(*model_, table, condition.column, range)) return true;
  }
  if (!table.key_range[condition.column]) return false;
  return ranges_cover(table, condition.column, range);
}

/// Exactly, for ranges that touch leave no gap.
template <class Num>
bool Machine<Num>::ranges_cover(const TableDef& table, std::size_t column, const Interval& key) {
  const std::vector<ExactInterval>& spans = table.covered[column];
  const bool endless = key.lo() == -HUGE_VAL;
  const Rational from = endless ? Rational() : exact(key.lo());
  const auto begins_after = [&](const Rational& at, const ExactInterval& span) {
    return !span.lo_infinite && (endless || at < span.lo_value);
  };
  const auto after = std::upper_bound(spans.begin(), spans.end(), from, begins_after);
  if (after == spans.begin()) return false;
  const ExactInterval& span = *(after - 1);
  return span.hi_infinite || (key.hi < HUGE_VAL && exact(key.hi) <= span.hi_value);
}

template <class Num>
std::uint32_t Machine<Num>::matched_row(const Op& op) {
  const Lookup& lookup = program_->lookups[op.payload];
  const TableDef& table = model_->tables[lookup.table];
  take_keys(lookup);
  for (std::size_t row = 0; row < table.rows.size() && !spent(); ++row) {
    const Bits bits = row_bits(table, lookup, row);
    if (bits == surely_yes) return static_cast<std::uint32_t>(row);
    if (bits != surely_no) break;
  }
  return no_reg;
}

template <class Num>
std::vector<std::uint32_t> Machine<Num>::rows_met(const Op& op, bool surely, std::size_t most) {
  const Lookup& lookup = program_->lookups[op.payload];
  const TableDef& table = model_->tables[lookup.table];
  const bool first_only = lookup.takes_first();
  std::vector<std::uint32_t> out;
  std::set<std::pair<NumberId, SymbolicSetId>> said;
  if (surely && first_only) return out;
  take_keys(lookup);
  for (std::uint32_t row = 0; row < table.rows.size() && out.size() < most; ++row) {
    const Bits bits = row_bits(table, lookup, row);
    if (spent()) return {};
    if (surely ? bits != surely_yes : (bits & may_yes) == 0) continue;
    const ConstValue& found = table.rows[row][lookup.column];
    if (said.emplace(found.number, found.symbols).second) out.push_back(row);
    if (first_only && bits == surely_yes) break;
  }
  return out;
}

template <class Num>
void Machine<Num>::in_table(const Op& op, Value& out) {
  const Lookup& lookup = program_->lookups[op.payload];
  const TableDef& table = model_->tables[lookup.table];
  take_keys(lookup);
  Bits bits = surely_no;
  for (std::size_t row = 0; row < table.rows.size() && bits != surely_yes && !spent(); ++row) {
    bits = or_bits(bits, row_bits(table, lookup, row));
  }
  if (spent()) bits = anything;
  if (bits == undecided && covered(table, lookup)) bits = surely_yes;
  set_truth(out, bits, keys_move(lookup) ? may_move : still);
}

}  // namespace mm

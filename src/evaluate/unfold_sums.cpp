// Sums, counts and extremes over parts or faces, as what is added up or compared.
#include <algorithm>

#include "evaluate/counted_sheets.hpp"
#include "evaluate/unfold_writer.hpp"

namespace mm {

/// That number and no other.
Reg UnfoldWriter::number(const Rational& value, TypeKind kind) {
  const auto same = [&](const FreeNumber& one) {
    return one.range.is_point() && one.range.lo_value == value;
  };
  auto at = std::find_if(out_.free_numbers.begin(), out_.free_numbers.end(), same);
  if (at == out_.free_numbers.end()) {
    const auto slot = static_cast<std::uint32_t>(binding_.locals.size());
    binding_.locals.emplace_back();
    at = out_.free_numbers.insert(at, {slot, ExactInterval::point(value)});
  }
  Op op = fresh(OpCode::local_number, kind);
  op.payload = at->slot;
  return add(op, true);
}

/// Sums and extremes of what is surely meant; what may be meant adds that or nothing, and an extreme is with
/// it or without.
bool UnfoldWriter::together(const Op& op, const Quantifier& q, const std::vector<EntityId>& items) {
  const bool counts = op.code == OpCode::count_entities, sums = counts || op.code == OpCode::sum_entities;
  std::vector<EntityId> meant, perhaps;
  CountedSheets sheets(q, bench_.world);
  for (const EntityId item : items) {
    if (sheets.has(item)) continue;
    const Bits where = there(q, item);
    if (where == surely_yes) {
      meant.push_back(item);
      sheets.add(item);
    } else if (where != surely_no) {
      if (where != undecided || sheets.any() || extent_ != Extent::fully) return false;
      perhaps.push_back(item);
    }
  }
  if (meant.empty() && (perhaps.empty() || !sums)) return false;
  const bool is_defined = was_defined(op);
  const OpCode step = sums ? OpCode::add : op.code == OpCode::min_entities ? OpCode::min : OpCode::max;
  says_more_ = says_more_ || !perhaps.empty();
  Reg all = no_reg;
  const auto with = [&](Reg one) {
    const bool alone = all == no_reg || (!sums && one == all);
    return alone ? one : add(fresh(step, op.result, all, one), is_defined);
  };
  if (counts && !meant.empty()) all = number(static_cast<std::int64_t>(meant.size()), op.result);
  for (const EntityId item : meant)
    if (!counts) all = with(written_for(q, item, q.body));
  for (const EntityId item : perhaps) {
    const Reg where = written_for(q, item, q.where);
    const Reg one = counts ? number(1, op.result) : written_for(q, item, q.body);
    const auto chosen = [&](Reg yes, Reg no) {
      return add(fresh(OpCode::choose, op.result, where, yes, no), is_defined);
    };
    all = sums ? with(chosen(one, number(0, op.result))) : chosen(with(one), all);
  }
  regs_[op.target] = all;
  return true;
}

}  // namespace mm

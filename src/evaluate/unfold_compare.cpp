// Comparisons of an `if`, or of the greater or the lesser of two, as comparisons of what they may be.
#include <algorithm>

#include "evaluate/unfold_writer.hpp"

namespace mm {

namespace {

constexpr int most_depth = 24;               // of operations above an `if`, and of comparisons of parts
constexpr std::size_t most_assumptions = 6;  // of `if` within `if`

bool carries(OpCode code) { return code >= OpCode::add && code <= OpCode::round; }

}  // namespace

std::optional<bool> UnfoldWriter::assumed(Reg condition) const {
  const auto at =
      std::find_if(assumed_.begin(), assumed_.end(), [&](const auto& one) { return one.first == condition; });
  return at == assumed_.end() ? std::nullopt : std::optional(at->second);
}

bool UnfoldWriter::holds_choice(const Op& op) const {
  if (op.code == OpCode::choose) return true;
  if (!carries(op.code)) return false;
  return (op.a != no_reg && made_[op.a].holds_choice) || (op.b != no_reg && made_[op.b].holds_choice);
}

/// A number that holds an `if`, apart: what it is where the condition holds, and where not.
std::optional<UnfoldWriter::Split> UnfoldWriter::split(Reg number, int depth) {
  const Op op = made_[number].op;
  if (depth > most_depth || !made_[number].holds_choice) return std::nullopt;
  if (op.code == OpCode::choose) return Split{op.a, op.b, op.c};
  for (Reg Op::*side : {&Op::a, &Op::b}) {
    if (op.*side == no_reg || !made_[op.*side].holds_choice) continue;
    const auto inner = split(op.*side, depth + 1);
    if (!inner) continue;
    const auto with = [&](Reg reg) {
      Op out = op;
      out.*side = reg;
      return add(out);
    };
    return Split{inner->condition, with(inner->yes), with(inner->no)};
  }
  return std::nullopt;
}

/// max(a, b) <= c where both are, and so on; where nothing of it may be undefined.
std::optional<Reg> UnfoldWriter::by_extremes(const Op& op) {
  if (op.code == OpCode::eq) return std::nullopt;
  for (Reg Op::*side : {&Op::a, &Op::b}) {
    const Made number = made_[op.*side];
    const bool least = number.op.code == OpCode::min;
    if ((!least && number.op.code != OpCode::max) || !number.is_defined) continue;
    Op first = op, second = op;
    first.*side = number.op.a;
    second.*side = number.op.b;
    const bool both = (side == &Op::a) != least;
    const Reg one = compare(first);
    return add_truth(both ? OpCode::logical_and : OpCode::logical_or, one, compare(second));
  }
  return std::nullopt;
}

Reg UnfoldWriter::compare(const Op& op) {
  --room_;
  if (depth_ >= most_depth || room_ < 0) return add(op);
  ++depth_;
  const Reg out = compare_parts(op);
  --depth_;
  return out;
}

Reg UnfoldWriter::compare_parts(const Op& op) {
  const Op a = made_[op.a].op, b = made_[op.b].op;
  if (op.code == OpCode::eq && a.result == TypeKind::boolean && b.result == TypeKind::boolean) {
    differs_ = true;
    return add_truth(OpCode::choose, op.a, op.b, add_truth(OpCode::logical_not, op.b));
  }
  if (const auto both = by_extremes(op)) {
    differs_ = true;
    return *both;
  }
  for (Reg Op::*side : {&Op::a, &Op::b}) {
    const auto parts = split(op.*side, 0);
    if (!parts) continue;
    differs_ = true;
    const auto with = [&](bool yes) {
      Op out = op;
      out.*side = yes ? parts->yes : parts->no;
      return out;
    };
    if (const auto known = assumed(parts->condition)) return compare(with(*known));
    if (assumed_.size() >= most_assumptions) return add(op);
    assumed_.emplace_back(parts->condition, true);
    const Reg yes = compare(with(true));
    assumed_.back().second = false;
    const Reg no = compare(with(false));
    assumed_.pop_back();
    return add_truth(OpCode::choose, parts->condition, yes, no);
  }
  return add(op);
}

}  // namespace mm

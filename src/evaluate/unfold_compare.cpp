// Comparisons of an `if`, or of the greater or the lesser of two, as comparisons of what they may be; and
// questions to a table in the same way. What is rounded to one of few whole numbers is an `if` too.
#include <algorithm>
#include <cmath>

#include "evaluate/unfold_writer.hpp"

namespace mm {

namespace {

constexpr int most_depth = 24;               // of operations above an `if`, and of comparisons of parts
constexpr std::size_t most_assumptions = 6;  // of `if` within `if`
constexpr double most_whole = 4;             // numbers that something is rounded to

bool carries(OpCode code) { return code >= OpCode::add && code <= OpCode::round; }

}  // namespace

std::optional<bool> UnfoldWriter::assumed(Reg condition) const {
  const auto at =
      std::find_if(assumed_.begin(), assumed_.end(), [&](const auto& one) { return one.first == condition; });
  return at == assumed_.end() ? std::nullopt : std::optional(at->second);
}

bool UnfoldWriter::holds_choice(const Op& op) const {
  if (op.code == OpCode::choose || op.code == OpCode::min || op.code == OpCode::max || op.code == OpCode::abs)
    return true;
  if (!carries(op.code)) return false;
  return (op.a != no_reg && made_[op.a].holds_choice) || (op.b != no_reg && made_[op.b].holds_choice);
}

/// A number that holds an `if`, apart: what it is where the condition holds, and where not.
std::optional<UnfoldWriter::Split> UnfoldWriter::split(Reg number, int depth) {
  const Op op = made_[number].op;
  if (depth > most_depth || !made_[number].holds_choice) return std::nullopt;
  if (op.code == OpCode::choose) return Split{op.a, op.b, op.c};
  if ((op.code == OpCode::min || op.code == OpCode::max) && made_[number].is_defined) {
    const bool least = op.code == OpCode::min;
    const Op ordered = fresh(OpCode::le, TypeKind::boolean, least ? op.a : op.b, least ? op.b : op.a);
    return Split{compare(ordered), op.a, op.b};
  }
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
  // of a size that is compared itself its two sides tell more
  if (op.code != OpCode::abs || depth == 0) return std::nullopt;
  const Op above = fresh(OpCode::le, TypeKind::boolean, this->number(0, op.result), op.a);
  return Split{compare(above), op.a, add(fresh(OpCode::neg, op.result, op.a))};
}

/// max(a, b) <= c where both are, c <= abs(a) where c <= a or c <= -a, and so on; where nothing of it may be
/// undefined.
std::optional<Reg> UnfoldWriter::by_extremes(const Op& op) {
  if (op.code == OpCode::eq) return std::nullopt;
  if (const Made size = made_[op.b]; size.op.code == OpCode::abs && size.is_defined) {
    Op up = op, down = op;
    up.b = size.op.a;
    down.b = add(fresh(OpCode::neg, size.op.result, size.op.a), true);
    const Reg one = compare(up);
    return add_truth(OpCode::logical_or, one, compare(down));
  }
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

Reg UnfoldWriter::look_up(const Op& op, bool is_defined) {
  if (--room_ < 0 || depth_ >= most_depth) return add(op, is_defined);
  const Lookup lookup = out_.lookups[op.payload];
  for (std::size_t i = 0; i < lookup.conditions.size(); ++i) {
    const auto parts = split(lookup.conditions[i].value, 0);
    if (!parts) continue;
    differs_ = true;
    const auto with = [&](bool yes) {
      Lookup one = lookup;
      one.conditions[i].value = yes ? parts->yes : parts->no;
      Op out = op;
      out.payload = add_lookup(std::move(one));
      ++depth_;
      const Reg made = look_up(out, is_defined);
      --depth_;
      return made;
    };
    if (const auto known = assumed(parts->condition)) return with(*known);
    if (assumed_.size() >= most_assumptions) break;
    assumed_.emplace_back(parts->condition, true);
    const Reg yes = with(true);
    assumed_.back().second = false;
    const Reg no = with(false);
    assumed_.pop_back();
    Op out = op;
    out.code = OpCode::choose;
    out.a = parts->condition, out.b = yes, out.c = no;
    out.payload = 0;
    return add(out, is_defined);
  }
  return add(op, is_defined);
}

/// round(x) of 1 to 3 is `if x < 1.5 then 1 else (if x < 2.5 then 2 else 3)`.
Reg UnfoldWriter::rounded(const Op& op, const Op& as_it_stood) {
  const bool is_defined = was_defined(as_it_stood);
  const Interval range = bounds(bench_.fast.number_of(bench_.fast.at(as_it_stood.target)));
  if (!is_defined || !std::isfinite(range.lo()) || width(range) >= most_whole) return add(op, is_defined);
  const Rational first = ceil(exact(range.lo()));
  Rational whole = floor(exact(range.hi));
  if (whole <= first) return add(op, is_defined);
  Reg out = number(whole, op.result);
  for (whole -= 1; whole >= first; whole -= 1) {
    const Rational half = whole + Rational(1, 2);
    const Rational next = op.code == OpCode::floor ? whole + 1 : op.code == OpCode::ceil ? whole : half;
    const bool includes = op.code == OpCode::ceil || (op.code == OpCode::round && half.sign() < 0);
    const OpCode below = includes ? OpCode::le : OpCode::lt;
    const Reg limit = number(next, made_[op.a].op.result);
    const Reg condition = compare(fresh(below, TypeKind::boolean, op.a, limit));
    out = add(fresh(OpCode::choose, op.result, condition, number(whole, op.result), out), is_defined);
  }
  differs_ = says_more_ = true;
  return out;
}

}  // namespace mm

// The claim is written out (see unfold.hpp); its comparisons, each by itself, have limits along the value
// (see limits.hpp). What is surely known of `a and b`, `a or b`, `not a` and of a choice is put together from
// what is known of their sides: less than there is where these have to do with each other, and never more.
#include "evaluate/test_along.hpp"

#include <algorithm>

namespace mm {

namespace {

constexpr std::size_t most_slacks = 24;

bool joins(OpCode code) {
  return code == OpCode::logical_and || code == OpCode::logical_or || code == OpCode::logical_not ||
         code == OpCode::choose;
}

SureValues both(const SureValues& a, const SureValues& b) {
  return {a.holds.intersected(b.holds), a.fails.united(b.fails)};
}

SureValues denied(SureValues a) { return {std::move(a.fails), std::move(a.holds)}; }

SureValues either(const SureValues& a, const SureValues& b) { return denied(both(denied(a), denied(b))); }

}  // namespace

PartAlong::PartAlong(Bench& bench, const Claim::Part& part, const Binding& binding,
                     const Variables& variables)
    : bench_(bench), variables_(variables) {
  bench.fast.start(*part.program, binding, bench.world, bench.box);
  bench.fast.run(part.block);
  collect(part.program->blocks[part.block], part.program->registers);
  std::vector<const Op*> open;
  for (const Op& op : ops_)
    if (is_comparison(op.code) && !is_single(bits_[op.target])) open.push_back(&op);
  slacks_.take_these(bench, part, binding, variables, open);
}

/// From the result back to the comparisons, past what is decided.
void PartAlong::collect(const Block& block, std::size_t registers) {
  result_ = block.result;
  bits_.assign(registers, anything);
  sure_.resize(registers);
  std::vector<char> wanted(registers, 0);
  if (result_ == no_reg) return;
  wanted[result_] = 1;
  for (auto op = block.ops.rbegin(); op != block.ops.rend(); ++op) {
    if (wanted[op->target] == 0) continue;
    bits_[op->target] = bench_.fast.truth_of(bench_.fast.at(op->target));
    ops_.push_back(*op);
    if (is_single(bits_[op->target]) || !joins(op->code)) continue;
    for (const Reg side : {op->a, op->b, op->c})
      if (side != no_reg) wanted[side] = 1;
  }
  std::reverse(ops_.begin(), ops_.end());
}

SureValues PartAlong::along(std::size_t variable) {
  if (result_ == no_reg) return {};
  for (const Op& op : ops_) {
    SureValues& sure = sure_[op.target];
    const Bits bits = bits_[op.target];
    if (is_single(bits))
      sure = bits == surely_yes  ? SureValues{ValueSet::all(), {}}
             : bits == surely_no ? SureValues{{}, ValueSet::all()}
                                 : SureValues{};
    else
      sure = is_comparison(op.code) ? compared(op.target, variable) : joined(op);
  }
  return sure_[result_];
}

SureValues PartAlong::compared(Reg truth, std::size_t variable) {
  const auto its = [&](const Slack& slack) { return slack.truth == truth; };
  const auto first = std::find_if(slacks_.list().begin(), slacks_.list().end(), its);
  const auto last = std::find_if_not(first, slacks_.list().end(), its);
  return sure_values(find_limits(bench_, variables_, slacks_, {first, last}, variable, LimitsWanted::both));
}

SureValues PartAlong::joined(const Op& op) const {
  switch (op.code) {
    case OpCode::logical_not:
      return denied(sure_[op.a]);
    case OpCode::logical_and:
      return both(sure_[op.a], sure_[op.b]);
    case OpCode::logical_or:
      return either(sure_[op.a], sure_[op.b]);
    case OpCode::choose: {
      const SureValues &condition = sure_[op.a], &yes = sure_[op.b], &no = sure_[op.c];
      return {condition.holds.intersected(yes.holds).united(condition.fails.intersected(no.holds)),
              condition.holds.intersected(yes.fails).united(condition.fails.intersected(no.fails))};
    }
    default:
      return {};
  }
}

TestAlong::TestAlong(Bench& bench, const Claim& claim, const Variables& variables) : unfolded_(bench, claim) {
  const Claim& plain = unfolded_.differs() ? unfolded_.claim() : claim;
  Claim::Part parts[3];
  const std::size_t count = plain.parts(parts);
  std::size_t slacks = 0;
  for (std::size_t p = 0; p < count; ++p) {
    parts_.emplace_back(bench, parts[p], *plain.binding, variables);
    slacks += parts_.back().comparisons();
  }
  known_ = slacks <= most_slacks && !bench.spent();
}

SureValues TestAlong::along(std::size_t variable) {
  SureValues applies{ValueSet::all(), {}};
  for (std::size_t p = 0; p + 1 < parts_.size(); ++p) applies = both(applies, parts_[p].along(variable));
  return either(denied(applies), parts_.back().along(variable));
}

}  // namespace mm

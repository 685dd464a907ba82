// Differences that are nothing at a number which is no fraction: it lies between two fractions at which the
// difference has different signs, if it has no jump between them (intermediate value theorem).
#include <algorithm>
#include <cmath>
#include <utility>

#include "evaluate/algebra.hpp"
#include "evaluate/crossings.hpp"
#include "evaluate/skeleton.hpp"

namespace mm {

namespace {

constexpr std::int64_t most_steps = 600'000;  // of the exact machine, for all roots
constexpr int most_halvings = 40;
constexpr int most_others = 4;       // values where a difference may be of the other sign
constexpr std::size_t manners = 12;  // worlds from which one value is moved

}  // namespace

/// None where it is not sure.
std::optional<int> Crossings::sign_at(const Side& side, std::size_t v, const Rational& value) {
  bench_->box.narrow_exact((*variables_)[v].cell, ExactInterval::point(value));
  const ExactInterval range = difference_range(side);
  if (range.empty) return std::nullopt;
  if (!range.lo_infinite && range.lo_value.sign() > 0) return 1;
  if (!range.hi_infinite && range.hi_value.sign() < 0) return -1;
  return range.is_point() ? std::optional(0) : std::nullopt;
}

std::optional<Crossings::Turn> Crossings::find_turn(const Side& side, std::size_t v) {
  const Variable& variable = (*variables_)[v];
  Rational a = value_at(bench_->box.exact(variable.cell), variable.integer, Spot::middle), b = a;
  const auto sign_of_a = sign_at(side, v, a);
  if (!sign_of_a || *sign_of_a == 0) return std::nullopt;
  for (int other = 0; other < most_others && a == b; ++other) {
    const Rational there = other < 2
                               ? value_at(ranges_[v], variable.integer, other == 0 ? Spot::low : Spot::high)
                               : random_value(ranges_[v], variable.integer, state_);
    if (sign_at(side, v, there) == -*sign_of_a) b = there;
  }
  if (a == b) return std::nullopt;
  for (int i = 0; i < most_halvings && !(variable.integer && abs(b - a) <= 1) && may_go_on(); ++i) {
    Rational middle = (a + b) / 2;
    if (variable.integer) middle = floor(middle);
    const auto sign = sign_at(side, v, middle);
    if (!sign) return std::nullopt;
    (*sign == *sign_of_a ? a : b) = middle;
  }
  return Turn{a, b};
}

/// Over the box as it stands, unless its slope has ends.
bool Crossings::jumps(const Side& side, std::size_t v) {
  auto& machine = bench_->slopes;
  const Claim::Part& part = parts_[side.place.part];
  const CellId cell = (*variables_)[v].cell;
  machine.set_active(cell, bench_->box.number(cell));
  machine.start(*part.program, *claim_->binding, bench_->world, bench_->box);
  machine.run(part.block);
  const auto is_steady = [&](Reg reg) {
    const auto& value = machine.at(reg);
    if (value.kind == ValueKind::number && value.state != defined) return false;
    const Interval slope = machine.number_of(value).slope;
    return !slope.is_empty() && std::isfinite(slope.lo()) && std::isfinite(slope.hi);
  };
  const bool steady = is_steady(side.left) && (side.right == no_reg || is_steady(side.right));
  const bool spent = machine.spent();
  machine.set_active(CellId{}, Interval::point(0));
  return !steady || spent;
}

/// Of all whose own difference is a multiple of this one.
Answers Crossings::answers_at_root(const Side& side) {
  Answers out;
  Algebra algebra(*bench_);
  algebra.take(*claim_);
  const auto difference = [&](std::size_t part, Reg left, Reg right, int sign) -> std::optional<Polynomial> {
    const Polynomial* a = algebra.form(part, left).number;
    const Polynomial* b = algebra.form(part, right).number;
    return a != nullptr && b != nullptr ? sum(*a, *b, -sign) : std::nullopt;
  };
  std::optional<Polynomial> root;
  if (side.right != no_reg) {
    root = difference(side.place.part, side.left, side.right, side.sign);
  } else if (const Polynomial* left = algebra.form(side.place.part, side.left).number) {
    root = sum(*left, Polynomial(side.at), -1);
  }
  if (!root || root->is_constant()) return out;
  const auto is_nothing = [&](const std::optional<Polynomial>& number) {
    return number && (number->terms().empty() || number->ratio_to(*root));
  };
  std::vector<Reg> inside;
  std::size_t inside_of_part = part_count_;
  each_step(bench_->fast, *bench_, *claim_, [&](const Claim::Part& part, std::size_t p, const Op& op) {
    if (std::exchange(inside_of_part, p) != p)
      inside = inside_of_abs(part.program->blocks[part.block], part.program->registers);
    if (is_comparison(op.code)) {
      bool is_zero = is_nothing(difference(p, op.b, op.a, 1));
      const auto& most = bench_->fast.at(op.b);
      if (inside[op.a] != no_reg && bounds(bench_->fast.number_of(most)).lo() >= 0)
        for (const int sign : {1, -1})
          is_zero = is_zero || is_nothing(difference(p, op.b, inside[op.a], sign));
      if (is_zero) out.emplace_back(&op, answer_of(op.code, 0));
    } else if (op.code == OpCode::in_table) {
      const Lookup& lookup = part.program->lookups[op.payload];
      const LookupCondition& condition = lookup.conditions[0];
      if (lookup.conditions.size() != 1 || condition.op != BinaryOp::eq) return;
      const Polynomial* key = algebra.form(p, condition.value).number;
      for (const auto& row : bench_->index.model.tables[lookup.table].rows) {
        const NumberId number = row[condition.column].number;
        if (key == nullptr || !number) continue;
        const ExactInterval& cell = bench_->index.model.numbers[number].exact;
        if (cell.is_point() && is_nothing(sum(*key, Polynomial(cell.lo_value), -1)))
          return void(out.emplace_back(&op, surely_yes));
      }
    }
  });
  return out;
}

void Crossings::each_root(const AtRoot& at_root) {
  stop_ = bench_->sharp.limits.steps - most_steps;
  for (std::size_t manner = 0; manner < manners && may_go_on(); ++manner) {
    place(manner);
    for (const Side& side : sides_) {
      for (std::size_t v = 0; side.asked && v < variables_->size() && may_go_on(); ++v) {
        const Variable& variable = (*variables_)[v];
        if (!variable.number || variable.integer || ranges_[v].empty || ranges_[v].is_point()) continue;
        const ExactInterval here = bench_->box.exact(variable.cell);
        if (const auto turn = find_turn(side, v)) {
          const auto signs = {sign_at(side, v, turn->from), sign_at(side, v, turn->to)};
          bench_->box.narrow_exact(variable.cell, ExactInterval::of(std::min(turn->from, turn->to),
                                                                    std::max(turn->from, turn->to)));
          if (std::min(signs) == std::optional(-1) && std::max(signs) == std::optional(1) &&
              !jumps(side, v)) {
            const Answers answers = answers_at_root(side);
            if (!answers.empty() && !at_root(variable.cell, answers)) return;
          }
        }
        bench_->box.narrow_exact(variable.cell, here);
      }
    }
  }
}

}  // namespace mm

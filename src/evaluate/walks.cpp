#include "evaluate/walks.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace mm {

namespace {

constexpr std::size_t most_worlds = 3000;  // looked at, of one kind
constexpr std::size_t manners = 10;        // worlds from which a walk starts
constexpr int most_rounds = 6;             // through all values, of one walk
constexpr double touches = 1e-9;           // as a share of what a comparison spans
constexpr std::uint64_t seed = 0x9e3779b97f4a7c15ULL;
constexpr double unknown = std::numeric_limits<double>::quiet_NaN();

double number_at(const Machine<Interval>& machine, Reg reg) {
  const auto& value = machine.at(reg);
  if (value.kind == ValueKind::number && value.state != defined) return unknown;
  return midpoint(machine.number_of(value));
}

/// No `and` undefined is no.
double both(double a, double b) {
  if (std::isnan(a)) return b < 0 ? b : unknown;
  if (std::isnan(b)) return a < 0 ? a : unknown;
  return std::min(a, b);
}

double either(double a, double b) { return -both(-a, -b); }

double of_bits(Bits bits) {
  return bits == surely_yes ? 1 : bits == surely_no ? -1 : (bits & may_undef) != 0 ? unknown : 0;
}

}  // namespace

Walks::Walks(Bench& bench, const Claim& claim, const Variables& variables)
    : bench_(&bench), claim_(&claim), variables_(&variables), part_count_(claim.parts(parts_)), state_(seed) {
  for (std::size_t v = 0; v < variables.size(); ++v)
    ranges_.push_back(variables[v].number ? bench.box.exact(variables[v].cell) : ExactInterval::none());
  find_spans();
}

/// How far within a row, or from the nearest one; by its answer alone where more than one number is asked.
double Walks::in_table(const Claim::Part& part, const Op& op, double span) {
  auto& machine = bench_->fast;
  const Lookup& lookup = part.program->lookups[op.payload];
  const LookupCondition& asked = lookup.conditions[0];
  double near = -std::numeric_limits<double>::infinity();
  if (lookup.conditions.size() > 1 || asked.op != BinaryOp::eq ||
      machine.at(asked.value).kind != ValueKind::number)
    return of_bits(machine.truth_of(machine.at(op.target)));
  const double key = number_at(machine, asked.value);
  for (const auto& row : bench_->index.model.tables[lookup.table].rows) {
    if (!row[asked.column].number) continue;
    const Interval& cell = bench_->index.model.numbers[row[asked.column].number].bounds;
    near = std::max(near, std::min(key - cell.lo(), cell.hi - key) / span);
  }
  return std::isnan(key) ? unknown : near;
}

void Walks::find_spans() {
  for (std::size_t p = 0; p < part_count_; ++p) {
    spans_[p].assign(parts_[p].program->registers, 1);
    bench_->fast.start(*parts_[p].program, *claim_->binding, bench_->world, bench_->box);
    bench_->fast.run(parts_[p].block);
    for (const Op& op : parts_[p].program->blocks[parts_[p].block].ops) {
      const auto range = [&](Reg reg) {
        const auto& value = bench_->fast.at(reg);
        return value.kind == ValueKind::number ? bounds(bench_->fast.number_of(value)) : Interval::empty();
      };
      Interval a = Interval::point(0), b = a;
      if (op.code == OpCode::in_table) {
        b = range(parts_[p].program->lookups[op.payload].conditions[0].value);
      } else if (is_comparison(op.code)) {
        a = range(op.a), b = range(op.b);
      }
      if (a.is_empty() || b.is_empty()) continue;
      const double span = width(sub(b, a));
      if (std::isfinite(span) && span > 0) spans_[p][op.target] = span;
    }
  }
}

double Walks::part_nearness(std::size_t p) {
  const Block& block = parts_[p].program->blocks[parts_[p].block];
  auto& machine = bench_->fast;
  machine.start(*parts_[p].program, *claim_->binding, bench_->world, bench_->box);
  machine.run(parts_[p].block);
  near_.assign(parts_[p].program->registers, unknown);
  for (const Op& op : block.ops) {
    double& near = near_[op.target];
    switch (op.code) {
      case OpCode::lt:
      case OpCode::le:
      case OpCode::eq: {
        const double apart = number_at(machine, op.b) - number_at(machine, op.a);
        near = (op.code == OpCode::eq ? -std::abs(apart) : apart) / spans_[p][op.target];
        break;
      }
      case OpCode::logical_and:
        near = both(near_[op.a], near_[op.b]);
        break;
      case OpCode::logical_or:
        near = either(near_[op.a], near_[op.b]);
        break;
      case OpCode::logical_not:
        near = -near_[op.a];
        break;
      case OpCode::choose:
        near = std::isnan(near_[op.a])
                   ? unknown
                   : either(both(near_[op.a], near_[op.b]), both(-near_[op.a], near_[op.c]));
        break;
      case OpCode::in_table:
        near = in_table(parts_[p], op, spans_[p][op.target]);
        break;
      default:
        if (op.result == TypeKind::boolean) near = of_bits(machine.truth_of(machine.at(op.target)));
    }
  }
  return near_[block.result];
}

double Walks::nearness() {
  if (left_ > 0) --left_;
  double applies = 1;
  for (std::size_t p = 0; p + 1 < part_count_; ++p) applies = both(applies, part_nearness(p));
  const double holds = either(-applies, part_nearness(part_count_ - 1));
  return passes_ ? holds : -holds;
}

void Walks::start_from(std::size_t manner) {
  for (std::size_t v = 0; v < variables_->size(); ++v) {
    if ((*variables_)[v].number) bench_->box.narrow_exact((*variables_)[v].cell, ranges_[v]);
    if (manner < 3) {
      constexpr Spot spots[3] = {Spot::middle, Spot::low, Spot::high};
      variables_->place(*bench_, v, spots[manner]);
    } else {
      variables_->place_random(*bench_, v, state_);
    }
  }
  here_ = nearness();
}

/// Of the world where the box stands; which is looked at if it seems to be of the kind.
bool Walks::better_than_here() {
  const double near = nearness();
  if (std::isnan(near) || (!std::isnan(here_) && near <= here_)) return false;
  here_ = near;
  if (near >= -touches) stopped_ = !(*at_world_)();
  return true;
}

bool Walks::try_spot(std::size_t v, const Rational& value) {
  const CellId cell = (*variables_)[v].cell;
  const ExactInterval before = bench_->box.exact(cell);
  if (!may_go_on() || !ranges_[v].contains(value) || before.lo_value == value) return false;
  bench_->box.narrow_exact(cell, ExactInterval::point(value));
  if (better_than_here()) return true;
  bench_->box.narrow_exact(cell, before);
  return false;
}

bool Walks::try_symbol(std::size_t v, std::uint32_t member) {
  const CellId cell = (*variables_)[v].cell;
  const SymbolicSet* before = bench_->box.symbols(cell);
  if (!may_go_on()) return false;
  bench_->box.narrow_symbols(cell, variables_->single(member));
  if (better_than_here()) return true;
  bench_->box.narrow_symbols(cell, before);
  return false;
}

/// To either end, anywhere, and steps each way as long as they lead nearer: `share` of the range at first, or
/// of the value where that has no end.
bool Walks::move(std::size_t v, double share) {
  const Variable& variable = (*variables_)[v];
  bool moved = false;
  if (!variable.number) {
    for (std::size_t i = 0; i < std::min<std::size_t>(variable.members.size(), 8); ++i)
      moved = try_symbol(v, variable.members[next_random(state_) % variable.members.size()]) || moved;
    return moved;
  }
  const ExactInterval& range = ranges_[v];
  if (range.empty || range.is_point()) return false;
  for (const Spot spot : {Spot::low, Spot::high})
    moved = try_spot(v, value_at(range, variable.integer, spot)) || moved;
  for (int i = 0; i < 2; ++i) moved = try_spot(v, random_value(range, variable.integer, state_)) || moved;
  for (const int side : {1, -1}) {
    Rational at = bench_->box.exact((*variables_)[v].cell).lo_value;
    const bool ends = !range.lo_infinite && !range.hi_infinite;
    Rational step = exact(share) * (ends ? range.hi_value - range.lo_value : abs(at)) * side;
    if (variable.integer) step = Rational(side);
    for (bool goes_on = true; goes_on; step *= 2) {
      Rational to = at + step;
      if (!range.lo_infinite) to = std::max(to, range.lo_value);
      if (!range.hi_infinite) to = std::min(to, range.hi_value);
      goes_on = try_spot(v, to);
      moved = moved || goes_on;
      at = to;
    }
  }
  return moved;
}

void Walks::each(bool passes, const std::function<bool()>& at_world, const std::function<bool()>& at_end) {
  passes_ = passes;
  stopped_ = false;
  at_world_ = &at_world;
  left_ = most_worlds;
  for (std::size_t manner = 0; manner < manners && may_go_on(); ++manner) {
    start_from(manner);
    if (here_ >= -touches && !at_world()) return;
    double share = 0.25;
    for (int round = 0; round < most_rounds && may_go_on(); ++round) {
      bool moved = false;
      for (std::size_t v = 0; v < variables_->size() && may_go_on(); ++v) moved = move(v, share) || moved;
      if (!moved) share /= 8;
    }
    if (stopped_ || bench_->spent() || !at_end()) return;
  }
}

}  // namespace mm

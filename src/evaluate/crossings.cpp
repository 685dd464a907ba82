#include "evaluate/crossings.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "evaluate/skeleton.hpp"
#include "evaluate/zeros.hpp"

namespace mm {

namespace {

constexpr std::int64_t most_steps = 600'000;  // of the exact machine, for so many sides at a time
constexpr std::size_t most_sides = 48;
constexpr std::size_t most_together = 3;
constexpr std::size_t most_rows = 16;  // of one table
constexpr std::size_t most_items = 8;  // of one quantifier
constexpr int most_halvings = 16;
constexpr std::size_t manners = 24;  // worlds from which one value is moved
constexpr std::uint64_t seed = 0x9e3779b97f4a7c15ULL;

}  // namespace

Crossings::Crossings(Bench& bench, const Claim& claim, const Variables& variables)
    : bench_(&bench), claim_(&claim), variables_(&variables), part_count_(claim.parts(parts_)), state_(seed) {
  for (std::size_t v = 0; v < variables.size(); ++v)
    ranges_.push_back(variables[v].number ? bench.box.exact(variables[v].cell) : ExactInterval::none());
  find_sides();
}

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
        sides_.push_back({place, op.a, op.b, 1, {}});
      } else {
        sides_.push_back({place, op.b, inside_of[op.a], 1, {}});
        sides_.push_back({place, op.b, inside_of[op.a], -1, {}});
      }
      return;
    case OpCode::div:
      sides_.push_back({place, op.b, no_reg, 1, {}});
      return;
    case OpCode::sqrt:
    case OpCode::ln:
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
          sides_.push_back({place, condition.value, no_reg, 1, at});
      };
      if (!cell.lo_infinite) add(cell.lo_value);
      if (!cell.hi_infinite && !cell.is_point()) add(cell.hi_value);
    }
  }
}

/// In the world at which the box stands; nullopt where it is not known exactly.
std::optional<Rational> Crossings::difference(const Side& side) {
  auto& machine = bench_->sharp;
  const Claim::Part& part = parts_[side.place.part];
  machine.start(*part.program, *claim_->binding, bench_->world, bench_->box);
  machine.run(part.block);
  if (side.place.over != nullptr) {
    machine.bind(side.place.over->slot, side.place.item);
    machine.run(side.place.block);
  }
  const auto number = [&](Reg reg) -> std::optional<Rational> {
    const auto& value = machine.at(reg);
    if (value.kind == ValueKind::number && value.state != defined) return std::nullopt;
    const ExactInterval range = machine.number_of(value);
    return range.is_point() ? std::optional(range.lo_value) : std::nullopt;
  };
  const auto left = number(side.left);
  const auto right = side.right == no_reg ? std::optional<Rational>(0) : number(side.right);
  if (!left || !right || machine.spent()) return std::nullopt;
  return *left - *right * side.sign - side.at;
}

void Crossings::place(std::size_t manner) {
  for (std::size_t v = 0; v < variables_->size(); ++v) {
    if ((*variables_)[v].number) bench_->box.narrow_exact((*variables_)[v].cell, ranges_[v]);
    if (manner < 3) {
      constexpr Spot spots[3] = {Spot::middle, Spot::low, Spot::high};
      variables_->place(*bench_, v, spots[manner]);
    } else if (const std::uint64_t draw = next_random(state_) % 8; draw < 4) {
      variables_->place(*bench_, v, draw < 2 ? Spot::low : Spot::high);
    } else {
      variables_->place_random(*bench_, v, state_);
    }
  }
}

/// The value of the variable at which the difference is nothing, the others being where they are, as three
/// values of it tell.
std::optional<Rational> Crossings::crossing(const Side& side, std::size_t v, const Rational (&values)[3]) {
  const Variable& variable = (*variables_)[v];
  const ExactInterval& range = ranges_[v];
  const auto difference_at = [&](const Rational& value) {
    bench_->box.narrow_exact(variable.cell, ExactInterval::point(value));
    return difference(side);
  };
  Seen seen[3];
  for (std::size_t i = 0; i < 3; ++i) {
    const auto found = difference_at(values[i]);
    if (!found) return std::nullopt;
    seen[i] = {values[i], *found};
    if (i == 1 && seen[0].difference == *found) return std::nullopt;  // the variable does not move it
  }
  for (const Rational& value : zeros(seen))
    if (range.contains(value) && (!variable.integer || value.is_whole()) &&
        difference_at(value) == Rational(0))
      return value;
  return std::nullopt;
}

/// As the whole range of the variable tells, or what is near the value that it has: an `if` or a table may
/// bend it elsewhere.
std::optional<Rational> Crossings::crossing_near(const Side& side, std::size_t v) {
  const Variable& variable = (*variables_)[v];
  const ExactInterval& range = ranges_[v];
  const Rational from = value_at(bench_->box.exact(variable.cell), variable.integer, Spot::middle);
  const auto at = [&](Spot spot) { return value_at(range, variable.integer, spot); };
  const Rational far[3] = {at(Spot::low), at(Spot::middle), at(Spot::high)};
  if (const auto value = crossing(side, v, far)) return value;
  const Rational step = variable.integer ? Rational(1) : (far[2] - far[0]) / 1024;
  const Rational up = range.contains(from + step) ? from + step : from - step * 2;
  const Rational down = range.contains(from - step) ? from - step : from + step * 2;
  const Rational near[3] = {from, up, down};
  return range.contains(up) && range.contains(down) ? crossing(side, v, near) : std::nullopt;
}

/// What was moved since has left the differences that are at nothing there.
bool Crossings::still_met() {
  return std::all_of(met_.begin(), met_.end(),
                     [&](const Side* side) { return difference(*side) == Rational(0); });
}

/// `more`: further sides that are to be at nothing too.
bool Crossings::cross(const Side& side, std::size_t more, const std::function<bool()>& at_world) {
  for (std::size_t v = 0; v < variables_->size() && may_go_on(); ++v) {
    const Variable& variable = (*variables_)[v];
    if (!variable.number || ranges_[v].empty || ranges_[v].is_point()) continue;
    const ExactInterval here = bench_->box.exact(variable.cell);
    const auto value = crossing_near(side, v);
    bench_->box.narrow_exact(variable.cell, value ? ExactInterval::point(*value) : here);
    if (value && still_met()) {
      if (more == 0 && !at_world()) return false;
      met_.push_back(&side);
      for (const Side& other : sides_) {
        if (more == 0 || !may_go_on()) break;
        if (std::find(met_.begin(), met_.end(), &other) != met_.end()) continue;
        if (!cross(other, more - 1, at_world)) return false;
      }
      met_.pop_back();
    }
    bench_->box.narrow_exact(variable.cell, here);
  }
  return true;
}

/// Where the difference of no value alone can be brought to nothing: with one value near there, by another.
bool Crossings::approach(const Side& side, const std::function<bool()>& at_world) {
  for (std::size_t v = 0; v < variables_->size() && may_go_on(); ++v) {
    const Variable& variable = (*variables_)[v];
    if (!variable.number || ranges_[v].empty || ranges_[v].is_point()) continue;
    const ExactInterval here = bench_->box.exact(variable.cell);
    if (go_near(side, v)) {  // and it stays there
      const ExactInterval range = std::exchange(ranges_[v], bench_->box.exact(variable.cell));
      const bool goes_on = cross(side, 0, at_world);
      ranges_[v] = range;
      if (!goes_on) return false;
    }
    bench_->box.narrow_exact(variable.cell, here);
  }
  return true;
}

/// Puts the variable next to where the difference changes its sign; false where that is not seen.
bool Crossings::go_near(const Side& side, std::size_t v) {
  const Variable& variable = (*variables_)[v];
  const auto sign_at = [&](const Rational& value) -> std::optional<int> {
    bench_->box.narrow_exact(variable.cell, ExactInterval::point(value));
    const auto found = difference(side);
    return found ? std::optional(found->sign()) : std::nullopt;
  };
  Rational a = value_at(ranges_[v], variable.integer, Spot::low);
  Rational b = value_at(ranges_[v], variable.integer, Spot::high);
  const auto sign_of_a = sign_at(a), sign_of_b = sign_at(b);
  if (!sign_of_a || !sign_of_b || *sign_of_a * *sign_of_b >= 0) return false;
  for (int i = 0; i < most_halvings && !(variable.integer && b - a <= 1) && may_go_on(); ++i) {
    Rational middle = (a + b) / 2;
    if (variable.integer) middle = floor(middle);
    const auto sign = sign_at(middle);
    if (!sign) return false;
    (*sign == *sign_of_a ? a : b) = middle;
  }
  bench_->box.narrow_exact(variable.cell, ExactInterval::point(a));
  return true;
}

void Crossings::each(const std::function<bool()>& at_world) {
  for (std::size_t together = 0; together < std::min(most_together, sides_.size()); ++together) {
    stop_ = bench_->sharp.limits.steps - most_steps;
    for (std::size_t manner = 0; manner < manners && may_go_on(); ++manner) {
      place(manner);
      for (const Side& side : sides_)
        if (may_go_on() && !cross(side, together, at_world)) return;
    }
  }
  stop_ = bench_->sharp.limits.steps - most_steps;
  for (std::size_t manner = 0; manner < manners && may_go_on(); ++manner) {
    place(manner);
    for (const Side& side : sides_)
      if (may_go_on() && !approach(side, at_world)) return;
  }
}

}  // namespace mm

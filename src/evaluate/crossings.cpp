#include "evaluate/crossings.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "evaluate/zeros.hpp"

namespace mm {

namespace {

constexpr std::int64_t most_steps = 600'000;  // of the exact machine, for so many sides at a time
constexpr std::int64_t steps_from_here = 100'000;
constexpr std::size_t most_together = 3;
constexpr std::size_t manners = 24;  // worlds from which one value is moved
constexpr std::uint64_t seed = 0x9e3779b97f4a7c15ULL;

}  // namespace

Crossings::Crossings(Bench& bench, const Claim& claim, const Variables& variables)
    : bench_(&bench), claim_(&claim), variables_(&variables), part_count_(claim.parts(parts_)), state_(seed) {
  for (std::size_t v = 0; v < variables.size(); ++v)
    ranges_.push_back(variables[v].number ? bench.box.exact(variables[v].cell) : ExactInterval::none());
  find_sides();
}

/// In the world at which the box stands; empty where it is not known.
ExactInterval Crossings::difference_range(const Side& side) {
  auto& machine = bench_->sharp;
  const Claim::Part& part = parts_[side.place.part];
  machine.start(*part.program, *claim_->binding, bench_->world, bench_->box);
  machine.run(part.block);
  if (side.place.over != nullptr) {
    machine.bind(side.place.over->slot, side.place.item);
    machine.run(side.place.block);
  }
  const auto number = [&](Reg reg) {
    const auto& value = machine.at(reg);
    const bool has = value.kind != ValueKind::number || value.state == defined;
    return has ? machine.number_of(value) : ExactInterval::none();
  };
  const ExactInterval left = number(side.left);
  const ExactInterval right = side.right == no_reg ? ExactInterval::point(0) : number(side.right);
  if (left.empty || right.empty || machine.spent()) return ExactInterval::none();
  const ExactInterval turned = side.sign > 0 ? right : neg(right);
  return sub(sub(left, turned), ExactInterval::point(side.at));
}

std::optional<Rational> Crossings::difference(const Side& side) {
  const ExactInterval range = difference_range(side);
  return range.is_point() ? std::optional(range.lo_value) : std::nullopt;
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
  for (const Rational& value : zeros(seen)) {
    if (!range.contains(value)) continue;
    if (variable.integer && !value.is_whole()) {
      between_ = value;
    } else if (difference_at(value) == Rational(0)) {
      return value;
    }
  }
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

/// Where the difference turns over, and next to it on both sides, other differences that are at nothing
/// being so still: there `<` holds that fails at the turn, and a divisor is not nothing any more.
bool Crossings::go_beside(std::size_t v, const Rational& turn, const std::function<bool()>& at_world) {
  const Variable& variable = (*variables_)[v];
  const ExactInterval& range = ranges_[v];
  const bool ends = !range.lo_infinite && !range.hi_infinite;
  const Rational step = times_power_of_two(ends ? range.hi_value - range.lo_value : abs(turn) + 1, -30);
  const Rational below = variable.integer ? ceil(turn) - 1 : turn - step;
  const Rational above = variable.integer ? floor(turn) + 1 : turn + step;
  for (const Rational& value : {below, above}) {
    if (!range.contains(value)) continue;
    bench_->box.narrow_exact(variable.cell, ExactInterval::point(value));
    if (still_met() && !at_world()) return false;
  }
  return true;
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
    between_.reset();
    const auto value = crossing_near(side, v);
    const auto turns_at = value ? value : between_;
    if (more == 0 && turns_at && !go_beside(v, *turns_at, at_world)) return false;
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
  const auto turn = find_turn(side, v);
  if (turn) bench_->box.narrow_exact((*variables_)[v].cell, ExactInterval::point(turn->from));
  return turn.has_value();
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

/// How far the sides are apart in the world where the box stands, as a share of what they come to.
double Crossings::apart(const Side& side) {
  auto& machine = bench_->fast;
  const Claim::Part& part = parts_[side.place.part];
  const auto number = [&](Reg reg) { return midpoint(machine.number_of(machine.at(reg))); };
  machine.start(*part.program, *claim_->binding, bench_->world, bench_->box);
  machine.run(part.block);
  if (side.place.over != nullptr) {
    machine.bind(side.place.over->slot, side.place.item);
    machine.run(side.place.block);
  }
  const double left = number(side.left);
  const double right = (side.right == no_reg ? 0 : side.sign * number(side.right)) + round_down(side.at);
  const double share = std::abs(left - right) / std::max(std::abs(left), std::abs(right));
  return std::isnan(share) ? HUGE_VAL : share;
}

bool Crossings::each_from_here(const std::function<bool()>& at_world) {
  stop_ = bench_->sharp.limits.steps - std::min(steps_from_here, bench_->sharp.limits.steps / 8);
  std::vector<std::pair<double, const Side*>> order;
  for (const Side& side : sides_) order.emplace_back(apart(side), &side);
  std::stable_sort(order.begin(), order.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  for (const std::size_t together : {std::size_t{0}, std::size_t{1}})
    for (const auto& [share, side] : order)
      if (may_go_on() && !cross(*side, together, at_world)) return false;
  return true;
}

}  // namespace mm

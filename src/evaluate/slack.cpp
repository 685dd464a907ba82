#include "evaluate/slack.hpp"

#include <algorithm>
#include <cmath>

#include "model/conjuncts.hpp"

namespace mm {

namespace {

/// upper - sign * lower
template <class Num>
Num apart(const Num& upper, const Num& lower, int sign) {
  return sign > 0 ? sub(upper, lower) : add(upper, lower);
}

}  // namespace

void Slacks::start(const Claim::Part& part, const Binding& binding, const Variables& variables) {
  part_ = part;
  binding_ = &binding;
  variables_ = &variables;
  list_.clear();
  all_of_test_ = rest_holds_ = true;
}

void Slacks::add(const Op& comparison, const std::vector<const Op*>& makers) {
  Slack slack;
  slack.truth = comparison.target;
  slack.upper = comparison.b;
  slack.lower = comparison.a;
  slack.strict = comparison.code == OpCode::lt;
  slack.equality = comparison.code == OpCode::eq;
  Slack other = slack;
  if (slack.equality) {
    std::swap(other.upper, other.lower);
    list_.push_back(std::move(other));
  } else if (const Op* inner = makers[comparison.a]; inner != nullptr && inner->code == OpCode::abs) {
    slack.lower = other.lower = inner->a;
    other.sign = -1;
    list_.push_back(std::move(other));
  }
  list_.push_back(std::move(slack));
}

template <class Num>
void Slacks::run(Machine<Num>& machine, const Bench& bench) const {
  machine.start(*part_.program, *binding_, bench.world, bench.box);
  machine.run(part_.block);
}

void Slacks::take(Bench& bench, const Claim& claim, const Variables& variables) {
  Claim::Part parts[3];
  const std::size_t count = claim.parts(parts);
  start(parts[count - 1], *claim.binding, variables);
  run(bench.fast, bench);
  const Block& block = part_.program->blocks[part_.block];
  const std::vector<const Op*> makers = makers_of(block, part_.program->registers);
  for (const Op* op : conjuncts_of(block, part_.program->registers)) {
    if (is_comparison(op->code)) {
      add(*op, makers);
      continue;
    }
    all_of_test_ = false;
    if (bench.fast.truth_of(bench.fast.at(op->target)) != surely_yes) rest_holds_ = false;
  }
  all_of_test_ = all_of_test_ && !list_.empty();
  if (!list_.empty()) find_slopes(bench);
}

void Slacks::take_these(Bench& bench, const Claim::Part& part, const Binding& binding,
                        const Variables& variables, std::span<const Op* const> comparisons) {
  start(part, binding, variables);
  all_of_test_ = false;
  const auto makers = makers_of(part_.program->blocks[part_.block], part_.program->registers);
  for (const Op* op : comparisons) add(*op, makers);
  if (!list_.empty()) find_slopes(bench);
}

bool Slacks::has_equality() const {
  return std::any_of(list_.begin(), list_.end(), [](const Slack& slack) { return slack.equality; });
}

bool Slacks::are_monotone() const {
  return std::none_of(list_.begin(), list_.end(), [](const Slack& slack) {
    return std::find(slack.moves.begin(), slack.moves.end(), may_move) != slack.moves.end();
  });
}

/// The slopes along the variable; none is active any more once another, or no, value is.
void Slacks::run_slopes(Bench& bench, const Variable& variable) const {
  bench.slopes.set_active(variable.cell, bench.box.number(variable.cell));
  run(bench.slopes, bench);
}

/// Of the slack as the slopes stand.
Slacks::Slope Slacks::slope(Bench& bench, const Slack& slack) const {
  const auto& upper = bench.slopes.at(slack.upper);
  const auto& lower = bench.slopes.at(slack.lower);
  const Dual u = bench.slopes.number_of(upper);
  const Dual l = bench.slopes.number_of(lower);
  return {apart(u.slope, l.slope, slack.sign),
          !bench.slopes.spent() && ((upper.state | lower.state) & may_undef) == 0};
}

bool Slacks::is_never_flat(Bench& bench, const Slack& slack, CellId cell) const {
  auto& machine = bench.sharp_slopes;  // in doubles a range would reach beyond its end
  machine.set_active(cell, bench.box.exact(cell));
  run(machine, bench);
  const auto& upper = machine.at(slack.upper);
  const auto& lower = machine.at(slack.lower);
  const bool known = !machine.spent() && ((upper.state | lower.state) & may_undef) == 0;
  const ExactInterval u = machine.number_of(upper).slope, l = machine.number_of(lower).slope;
  const ExactInterval slope = apart(u, l, slack.sign);
  machine.set_active(CellId{}, ExactInterval::point(0));
  if (!known || slope.empty) return false;
  return (!slope.lo_infinite && slope.lo_value > 0) || (!slope.hi_infinite && slope.hi_value < 0);
}

void Slacks::find_slopes(Bench& bench) {
  for (Slack& slack : list_) {
    slack.moves.assign(variables_->size(), may_move);
    slack.never_flat.assign(variables_->size(), false);
    slack.influence.assign(variables_->size(), 0);
  }
  for (std::size_t v = 0; v < variables_->size(); ++v) {
    const Variable& variable = (*variables_)[v];
    if (!variable.number) continue;
    run_slopes(bench, variable);
    for (Slack& slack : list_) {
      const Slope its = slope(bench, slack);
      Direction moves = still;
      if (its.range.hi > 0) moves |= may_rise;
      if (its.range.lo() < 0) moves |= may_fall;
      if (!its.known) moves = may_move;
      slack.moves[v] = moves;
      slack.never_flat[v] = its.never_flat();
      const double size = magnitude(its.range) * width(bench.box.number(variable.cell));
      slack.influence[v] = moves == still ? 0 : std::isnan(size) ? HUGE_VAL : size;
    }
  }
  bench.slopes.set_active(CellId{}, Interval::point(0));
}

/// The two numbers that are compared; nothing where they are not defined.
std::optional<Slacks::Sides> Slacks::sides(Bench& bench, const Slack& slack) const {
  run(bench.fast, bench);
  const auto& upper = bench.fast.at(slack.upper);
  const auto& lower = bench.fast.at(slack.lower);
  if ((upper.state & lower.state & undecided) == 0 || bench.fast.spent()) return std::nullopt;
  return Sides{bench.fast.number_of(upper), bench.fast.number_of(lower)};
}

Interval Slacks::range(Bench& bench, const Slack& slack) const {
  const auto both = sides(bench, slack);
  if (!both) return Interval::entire();
  return apart(both->upper, both->lower, slack.sign);
}

Interval Slacks::told_range(Bench& bench, const Slack& slack) const {
  const auto both = sides(bench, slack);
  if (!both) return Interval::entire();
  const Interval plain = apart(both->upper, both->lower, slack.sign);
  if (!may_be_rounding(plain, std::max(magnitude(both->upper), magnitude(both->lower)))) return plain;
  return intersect(plain, to_interval(exact_range(bench, slack)));
}

ExactInterval Slacks::exact_range(Bench& bench, const Slack& slack) const {
  run(bench.sharp, bench);
  const auto& upper = bench.sharp.at(slack.upper);
  const auto& lower = bench.sharp.at(slack.lower);
  if (((upper.state | lower.state) & may_undef) != 0 || bench.sharp.spent()) return ExactInterval::entire();
  const ExactInterval u = bench.sharp.number_of(upper);
  const ExactInterval l = bench.sharp.number_of(lower);
  return apart(u, l, slack.sign);
}

double Slacks::most_of_least(Bench& bench) const {
  run(bench.fast, bench);
  const auto number = [&](Reg reg) {
    const auto& value = bench.fast.at(reg);
    const bool known = (value.state & undecided) != 0 && !bench.fast.spent();
    return known ? bench.fast.number_of(value) : Interval::entire();
  };
  double most = HUGE_VAL;
  for (const Slack& a : list_)
    for (const Slack& b : list_) {
      if (a.lower == b.lower && a.upper == b.upper && a.sign > b.sign)
        most = std::min(most, number(a.upper).hi);
      if (a.upper == b.lower && a.sign > 0 && b.sign > 0)
        most = std::min(most, sub(number(b.upper), number(a.lower)).hi / 2);
    }
  return most;
}

bool Slacks::to_corner(Bench& bench, const Slack& slack, bool least, std::size_t except) const {
  bool all = true;
  for (std::size_t v = 0; v < variables_->size(); ++v) {
    if (v == except) continue;
    const Variable& variable = (*variables_)[v];
    if (slack.moves[v] == still) {
      if (variable.number) bench.box.to_some_point(variable.cell);
    } else if (!variable.number || slack.moves[v] == may_move) {
      all = false;
    } else {
      all = bench.box.to_end(variable.cell, (slack.moves[v] == may_rise) != least) && all;
    }
  }
  return all;
}

}  // namespace mm

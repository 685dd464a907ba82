#include "evaluate/corner_ranges.hpp"

#include <algorithm>

namespace mm {

namespace {

constexpr std::size_t most_numbers = 12, most_values = 64;

ExactInterval from_low(ExactInterval range) {
  range.hi_infinite = true;
  return range;
}

ExactInterval from_high(ExactInterval range) {
  range.lo_infinite = true;
  return range;
}

class Corners {
 public:
  Corners(Bench& bench, const Claim::Part& part, const Binding& binding)
      : bench_(bench), part_(part), binding_(binding), block_(part.program->blocks[part.block]) {
    run(bench_.fast);
    collect();
  }

  const Block& block() const { return block_; }
  /// By value: those that occur more than once in the register.
  std::uint64_t twice(Reg reg) const { return met_[reg].twice; }
  std::uint64_t in(Reg reg) const { return met_[reg].once; }

  /// Along each of the values, in each of the registers.
  void find_directions(std::uint64_t values, const std::vector<Reg>& regs) {
    moves_.assign(cells_.size(), std::vector<Direction>(regs.size(), may_move));
    regs_ = regs;
    for (std::size_t v = 0; v < cells_.size(); ++v) {
      if ((values >> v & 1U) == 0) continue;
      bench_.slopes.set_active(cells_[v], bench_.box.number(cells_[v]));
      run(bench_.slopes);
      for (std::size_t r = 0; r < regs.size(); ++r) moves_[v][r] = direction(regs[r]);
    }
    bench_.slopes.set_active(CellId{}, Interval::point(0));
  }

  /// The end of a register's range with some values where it is least, or greatest.
  ExactInterval at_corner(std::size_t r, std::uint64_t values, bool low, std::uint64_t at_best = 0) {
    const std::size_t former = bench_.box.at_ends();
    for (std::size_t v = 0; v < cells_.size(); ++v) {
      const Direction moves = moves_[v][r];
      if ((values >> v & 1U) == 0 || (moves != may_rise && moves != may_fall)) continue;
      const bool turned = (at_best >> v & 1U) != 0;
      bench_.box.to_end(cells_[v], ((moves == may_rise) != low) != turned);
    }
    run(bench_.sharp);
    const auto& value = bench_.sharp.at(regs_[r]);
    const bool known = value.state == defined && !bench_.sharp.spent();
    const ExactInterval out = known ? bench_.sharp.number_of(value) : ExactInterval::entire();
    bench_.box.leave_ends(former);
    return out;
  }

  std::uint64_t adjustables() const {
    std::uint64_t out = 0;
    for (std::size_t v = 0; v < cells_.size(); ++v)
      if ((bench_.index.build.cells[cells_[v]].flags & cell_adjustable) != 0) out |= std::uint64_t{1} << v;
    return out;
  }

 private:
  struct Met {
    std::uint64_t once = 0, twice = 0;
  };

  template <class Num>
  void run(Machine<Num>& machine) {
    machine.start(*part_.program, binding_, bench_.world, bench_.box);
    machine.run(part_.block);
  }

  void collect() {
    met_.resize(part_.program->registers);
    for (const Op& op : block_.ops) {
      Met& met = met_[op.target];
      if (op.code == OpCode::attribute) {
        met.once = bit_of(op);
      } else if (op.code < OpCode::every_entity) {
        for (const Reg reg : {op.a, op.b, op.c}) {
          if (reg == no_reg) continue;
          met.twice |= met_[reg].twice | (met.once & met_[reg].once);
          met.once |= met_[reg].once;
        }
      }
    }
  }

  std::uint64_t bit_of(const Op& op) {
    const auto& owner = bench_.fast.at(op.a);
    const auto& value = bench_.fast.at(op.target);
    if (owner.state != defined || !owner.entity || value.kind != ValueKind::number) return 0;
    const CellId cell = bench_.world.cell(owner.entity, op.payload);
    if (bench_.box.number(cell).is_point()) return 0;
    const auto at = std::find(cells_.begin(), cells_.end(), cell);
    if (at != cells_.end()) return std::uint64_t{1} << (at - cells_.begin());
    if (cells_.size() == most_values) return 0;
    cells_.push_back(cell);
    return std::uint64_t{1} << (cells_.size() - 1);
  }

  Direction direction(Reg reg) const {
    const auto& value = bench_.slopes.at(reg);
    if (value.state != defined || value.kind != ValueKind::number || bench_.slopes.spent()) return may_move;
    const Interval slope = bench_.slopes.number_of(value).slope;
    if (slope.is_empty()) return may_move;
    return static_cast<Direction>((slope.hi > 0 ? may_rise : still) | (slope.lo() < 0 ? may_fall : still));
  }

  Bench& bench_;
  const Claim::Part part_;
  const Binding& binding_;
  const Block& block_;
  std::vector<CellId> cells_;
  std::vector<Met> met_;  // by register
  std::vector<Reg> regs_;
  std::vector<std::vector<Direction>> moves_;  // by value, then place in regs_
};

}  // namespace

std::vector<std::pair<Reg, ExactInterval>> corner_ranges(Bench& bench, const Claim::Part& part,
                                                         const Binding& binding) {
  Corners corners(bench, part, binding);
  std::vector<Reg> regs;
  std::uint64_t values = 0;
  const auto& ops = corners.block().ops;
  for (auto op = ops.rbegin(); op != ops.rend() && regs.size() < most_numbers; ++op) {
    const bool number = op->code >= OpCode::add && op->code <= OpCode::round;
    if (!number || corners.twice(op->target) == 0) continue;
    regs.push_back(op->target);
    values |= corners.twice(op->target);
  }
  std::vector<std::pair<Reg, ExactInterval>> out;
  if (regs.empty()) return out;
  corners.find_directions(values, regs);
  for (std::size_t r = 0; r < regs.size(); ++r) {
    const std::uint64_t twice = corners.twice(regs[r]);
    const ExactInterval least = corners.at_corner(r, twice, true), most = corners.at_corner(r, twice, false);
    out.emplace_back(regs[r], intersect(from_low(least), from_high(most)));
  }
  return out;
}

ExactInterval best_set_range(Bench& bench, const Claim::Part& part, const Binding& binding, SafeEnd safe) {
  Corners corners(bench, part, binding);
  const Reg result = corners.block().result;
  const std::uint64_t twice = corners.twice(result), set = corners.adjustables() & corners.in(result);
  corners.find_directions(set | twice, {result});
  const auto end = [&](bool low) {
    const bool is_safe_end = safe == (low ? SafeEnd::lower : SafeEnd::upper);
    return is_safe_end ? corners.at_corner(0, set | twice, low, set) : corners.at_corner(0, twice, low);
  };
  return intersect(from_low(end(true)), from_high(end(false)));
}

}  // namespace mm

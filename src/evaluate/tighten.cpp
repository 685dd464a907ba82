// Tightening.
//
// Interval arithmetic forgets that two mentions of one value are the same value: x - x over [1, 2] becomes
// [-1, 1], x / (x + y) may pass 1. Cutting the box helps, but slowly, and never where the truth touches its
// limit at the box's edge. Yet nearly every comparison in a fitting rule moves one way with each value that
// it reads: a bigger bore is better or worse, not both. So for each comparison (leaf) that plain arithmetic
// leaves open we ask for the slope of its two sides' difference in each variable (Dual, one run a variable).
// Where that slope has one sign over the whole box, the comparison holds least at one end of the variable and
// most at the other. Put all such variables at the worse ends: if the comparison holds there, it holds
// everywhere; put them at the better ends: if it fails there, it fails everywhere. Variables of no certain
// sign keep their range meanwhile. Corners are single points in the monotone variables, so exact rationals
// can speak where doubles only touch.
//
// Leaves are judged one by one since `a <= x and x <= b` is monotone in no x, yet each half is. The boolean
// skeleton is then worked out again from the leaves. What stays open after that is cut (see search.cpp).
//
// Slopes with steps: floor has slope [0, inf], a count grows by jumps; both still have one sign. Where
// something may be undefined, or the branch of an `if` turns on the variable, the slope is everything: no
// corner is used.
#include "evaluate/tighten.hpp"

#include <algorithm>
#include <cmath>

namespace mm {

void Tightener::take(const Claim& claim, const Variables& variables) {
  claim_ = &claim;
  variables_ = &variables;
  skeleton_.take(*bench_, claim, variables.size());
  arrangement_.forget();
  moves_known_ = false;
}

void Tightener::take_within(const Claim& claim, const Variables& variables, const std::vector<Leaf>& leaves) {
  take(claim, variables);
  std::vector<Leaf>& mine = skeleton_.leaves();
  moves_known_ = std::equal(mine.begin(), mine.end(), leaves.begin(), leaves.end(), asks_as);
  for (std::size_t i = 0; i < mine.size() && moves_known_; ++i) mine[i].moves = leaves[i].moves;
}

template <class Num>
MachineValue<Num> Tightener::truth_at(const Machine<Num>& machine, const Leaf& leaf) {
  if (leaf.end != nullptr) return machine.against(leaf.code, leaf.sign, leaf.lower, *leaf.end);
  if (!leaf.is_piece()) return machine.at(leaf.reg);
  return machine.one_side(leaf.code, leaf.sign, leaf.lower, leaf.upper);
}

void Tightener::run_fast() {
  for (std::size_t p = 0; p < skeleton_.parts(); ++p) {
    bench_->fast.start(*skeleton_.part(p).program, *claim_->binding, bench_->world, bench_->box);
    bench_->fast.run(skeleton_.part(p).block);
    for (Leaf& leaf : skeleton_.leaves()) {
      if (leaf.part != p) continue;
      leaf.bits = bench_->fast.spent() ? anything : bench_->fast.truth_of(truth_at(bench_->fast, leaf));
    }
  }
}

void Tightener::find_slopes() {
  for (std::size_t v = 0; v < variables_->size(); ++v) {
    const Variable& variable = (*variables_)[v];
    if (!variable.number) continue;
    const Interval range = bench_->box.number(variable.cell);
    if (range.is_point()) {
      for (Leaf& leaf : skeleton_.leaves()) leaf.moves[v] = still, leaf.influence[v] = 0;
      continue;
    }
    for (std::size_t p = 0; p < skeleton_.parts(); ++p) {
      const bool open = std::any_of(leaves().begin(), leaves().end(), [&](const Leaf& leaf) {
        return leaf.part == p && !is_single(leaf.bits) && !(moves_known_ && leaf.moves[v] != may_move);
      });
      if (!open) continue;
      run_slopes(p, v);
      for (Leaf& leaf : skeleton_.leaves()) {
        if (leaf.part != p || is_single(leaf.bits)) continue;
        const auto truth = truth_at(bench_->slopes, leaf);
        leaf.moves[v] = bench_->slopes.spent() ? may_move : bench_->slopes.direction_of(truth);
        leaf.influence[v] = 0;
        const Bits bits = bench_->slopes.spent() ? anything : bench_->slopes.truth_of(truth);
        if (is_single(bits)) leaf.bits = bits;  // the form about the middle was sharp enough
        if (leaf.moves[v] == still || leaf.has_pieces) continue;
        double steepness = 1;
        if (leaf.compares()) {
          const auto slope_of = [&](Reg reg) {
            return bench_->slopes.number_of(bench_->slopes.at(reg)).slope;
          };
          const Interval a = slope_of(leaf.lower);
          const Interval b = leaf.end != nullptr ? Interval::point(0) : slope_of(leaf.upper);
          const Interval slope = leaf.sign > 0 ? sub(b, a) : add(b, a);
          steepness = std::max(std::abs(slope.lo()), std::abs(slope.hi));
        }
        leaf.influence[v] = steepness * width(range);
        if (std::isnan(leaf.influence[v])) leaf.influence[v] = HUGE_VAL;
      }
    }
  }
  bench_->slopes.set_active(CellId{}, Interval::point(0));
}

void Tightener::run_slopes(std::size_t part, std::size_t v) {
  const CellId cell = (*variables_)[v].cell;
  bench_->slopes.set_active(cell, bench_->box.number(cell));
  bench_->slopes.start(*skeleton_.part(part).program, *claim_->binding, bench_->world, bench_->box);
  bench_->slopes.run(skeleton_.part(part).block);
}

std::vector<std::vector<Direction>> Tightener::middle_moves() {
  std::vector<std::vector<Direction>> out(leaves().size(),
                                          std::vector<Direction>(variables_->size(), may_move));
  std::vector<ExactInterval> former;
  for (std::size_t v = 0; v < variables_->size(); ++v) {
    former.push_back((*variables_)[v].number ? bench_->box.exact((*variables_)[v].cell)
                                             : ExactInterval::none());
    if ((*variables_)[v].number) variables_->place(*bench_, v, Spot::middle);
  }
  for (std::size_t v = 0; v < variables_->size(); ++v) {
    const Variable& variable = (*variables_)[v];
    if (!variable.number) continue;
    bench_->box.narrow_exact(variable.cell, former[v]);
    for (std::size_t p = 0; p < skeleton_.parts(); ++p) {
      run_slopes(p, v);
      for (std::size_t i = 0; i < leaves().size(); ++i) {
        if (leaves()[i].part != p) continue;
        out[i][v] = bench_->slopes.direction_of(truth_at(bench_->slopes, leaves()[i]));
      }
    }
    variables_->place(*bench_, v, Spot::middle);
  }
  for (std::size_t v = 0; v < variables_->size(); ++v) {
    if ((*variables_)[v].number) bench_->box.narrow_exact((*variables_)[v].cell, former[v]);
  }
  bench_->slopes.set_active(CellId{}, Interval::point(0));
  return out;
}

Bits Tightener::at_corner(const Leaf& leaf, bool least, bool exactly) {
  Box& box = bench_->box;
  const std::size_t former = box.at_ends();
  bool to_a_point = true;  // else the ranges left open are what keeps the leaf open, not rounding
  for (std::size_t v = 0; v < variables_->size(); ++v) {
    const Variable& variable = (*variables_)[v];
    if (leaf.moves[v] == still) {
      // Where it stands makes no difference, so one point serves; unless it may leave something undefined.
      if (variable.number && (leaf.bits & may_undef) == 0) box.to_some_point(variable.cell);
      continue;
    }
    if (!variable.number || leaf.moves[v] == may_move) {
      to_a_point = to_a_point && variable.number && bench_->box.number(variable.cell).is_point();
      continue;
    }
    const bool high = (leaf.moves[v] == may_rise) != least;
    to_a_point = box.to_end(variable.cell, high) && to_a_point;
  }
  const Claim::Part& part = skeleton_.part(leaf.part);
  bench_->fast.start(*part.program, *claim_->binding, bench_->world, bench_->box);
  bench_->fast.run(part.block);
  Bits bits = bench_->fast.spent() ? anything : bench_->fast.truth_of(truth_at(bench_->fast, leaf));
  if (exactly && to_a_point && !is_single(bits)) {
    bench_->sharp.start(*part.program, *claim_->binding, bench_->world, bench_->box);
    bench_->sharp.run(part.block);
    if (!bench_->sharp.spent()) bits = bench_->sharp.truth_of(truth_at(bench_->sharp, leaf));
  }
  box.leave_ends(former);
  return bits;
}

/// From the answers that go together only.
Judged Tightener::arranged() {
  Judged out{0, 0};
  arrangement_.walk(leaves(), [&](const std::vector<Bits>& answers) {
    const Judged one = skeleton_.judge(answers);
    out.applies |= one.applies;
    out.holds |= one.holds;
    for (std::size_t p = 0; p < skeleton_.parts(); ++p)
      bench_->fast.limits.steps -= static_cast<std::int64_t>(skeleton_.block(p).ops.size());
    return !bench_->fast.spent() && is_single(out.holds);
  });
  return is_single(out.holds) && !bench_->spent() ? out : skeleton_.judge();
}

/// A range that ends where a table does reaches beyond it in doubles: what is asked is not undefined for
/// that.
void Tightener::see_what_is_defined() {
  for (std::size_t p = 0; p < skeleton_.parts(); ++p) {
    const bool any = std::any_of(leaves().begin(), leaves().end(), [&](const Leaf& leaf) {
      return leaf.part == p && !is_single(leaf.bits) && (leaf.bits & may_undef) != 0;
    });
    if (!any || bench_->sharp.spent()) continue;
    bench_->sharp.start(*skeleton_.part(p).program, *claim_->binding, bench_->world, bench_->box);
    bench_->sharp.run(skeleton_.part(p).block);
    if (bench_->sharp.spent()) continue;
    for (Leaf& leaf : skeleton_.leaves())
      if (leaf.part == p) leaf.bits &= bench_->sharp.truth_of(truth_at(bench_->sharp, leaf));
  }
}

/// Slopes that doubles only just leave without a sign, as 0.7 x - 0.7 x has.
void Tightener::find_exact_slopes() {
  for (std::size_t v = 0; v < variables_->size(); ++v) {
    const Variable& variable = (*variables_)[v];
    if (!variable.number || bench_->box.number(variable.cell).is_point()) continue;
    for (std::size_t p = 0; p < skeleton_.parts(); ++p) {
      const bool open = std::any_of(leaves().begin(), leaves().end(), [&](const Leaf& leaf) {
        return leaf.part == p && !is_single(leaf.bits) && leaf.moves[v] == may_move;
      });
      if (!open || bench_->sharp_slopes.spent()) continue;
      bench_->sharp_slopes.set_active(variable.cell, bench_->box.exact(variable.cell));
      bench_->sharp_slopes.start(*skeleton_.part(p).program, *claim_->binding, bench_->world, bench_->box);
      bench_->sharp_slopes.run(skeleton_.part(p).block);
      if (bench_->sharp_slopes.spent()) continue;
      for (Leaf& leaf : skeleton_.leaves()) {
        if (leaf.part != p || is_single(leaf.bits)) continue;
        const auto truth = truth_at(bench_->sharp_slopes, leaf);
        leaf.moves[v] = bench_->sharp_slopes.direction_of(truth);
        const Bits bits = bench_->sharp_slopes.truth_of(truth);
        if (is_single(bits)) leaf.bits = bits;
      }
    }
  }
}

void Tightener::settle_leaves(bool exactly, Bits wanted) {
  for (Leaf& leaf : skeleton_.leaves()) {
    if (is_single(leaf.bits) || leaf.has_pieces) continue;
    const bool any = std::any_of(leaf.moves.begin(), leaf.moves.end(),
                                 [](Direction move) { return move == may_rise || move == may_fall; });
    if (!any && !exactly) continue;
    const Bits least = any && wanted == surely_no ? anything : at_corner(leaf, true, exactly);
    if (least == surely_yes || (!any && is_single(least))) {
      leaf.bits = least;
      continue;
    }
    if (any && wanted != surely_yes && at_corner(leaf, false, exactly) == surely_no) leaf.bits = surely_no;
  }
}

Judged Tightener::arrange(bool in_pairs) {
  arrangement_.take(*claim_, leaves(), skeleton_.asks_twice());
  const Judged judged = arrangement_.binds() ? arranged() : skeleton_.judge();
  const bool open = in_pairs && !judged.not_applicable() && !is_single(judged.holds) && !bench_->spent();
  return open && arrangement_.pair_up(leaves()) ? arranged() : judged;
}

Judged Tightener::tighten_on() {
  settle_leaves(true);
  return skeleton_.judge();
}

Judged Tightener::tighten(Care care, bool& decided_fast, Bits wanted) {
  run_fast();
  Judged judged = skeleton_.judge();
  decided_fast = judged.not_applicable() || is_single(judged.holds);
  if (decided_fast || bench_->spent()) return judged;
  find_slopes();
  settle_leaves(care != Care::doubles, wanted);
  judged = skeleton_.judge();
  const auto open = [&] { return !judged.not_applicable() && !is_single(judged.holds) && !bench_->spent(); };
  if (care == Care::slopes && open()) {
    see_what_is_defined();
    find_exact_slopes();
    settle_leaves(true);
    judged = skeleton_.judge();
  }
  return open() && arrangement_.binds() ? arranged() : judged;
}

}  // namespace mm

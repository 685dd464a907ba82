#include "evaluate/skeleton.hpp"

#include <algorithm>

namespace mm {

namespace {

constexpr std::size_t most_rows = 12;  // that may be met, each a leaf or two

}  // namespace

std::vector<Reg> inside_of_abs(const Block& block, std::size_t registers) {
  std::vector<Reg> out(registers, no_reg);
  for (const Op& op : block.ops)
    if (op.code == OpCode::abs) out[op.target] = op.a;
  return out;
}

void Skeleton::take(Bench& bench, const Claim& claim, std::size_t variables) {
  part_count_ = claim.parts(parts_);
  leaves_.clear();
  asks_twice_ = false;
  for (std::size_t p = 0; p < part_count_; ++p) {
    if (!parts_[p].program->lookups.empty()) {
      bench.fast.start(*parts_[p].program, *claim.binding, bench.world, bench.box);
      bench.fast.run(parts_[p].block);
    }
    find(bench, p, variables);
  }
}

void Skeleton::find(Bench& bench, std::size_t p, std::size_t variables) {
  std::vector<char> wanted(parts_[p].program->registers, 0);
  const std::vector<Reg> inside = inside_of_abs(block(p), parts_[p].program->registers);
  const auto want = [&](Reg reg) {
    asks_twice_ = asks_twice_ || wanted[reg] != 0;
    wanted[reg] = 1;
  };
  std::vector<const Op*> found;
  want(block(p).result);
  for (auto op = block(p).ops.rbegin(); op != block(p).ops.rend(); ++op) {
    if (wanted[op->target] == 0) continue;
    if (op->code != OpCode::logical_and && op->code != OpCode::logical_or &&
        op->code != OpCode::logical_not && op->code != OpCode::choose) {
      found.push_back(&*op);
      continue;
    }
    for (const Reg reg : {op->a, op->b, op->c})
      if (reg != no_reg) want(reg);
  }
  for (auto op = found.rbegin(); op != found.rend(); ++op) {
    Leaf leaf;
    leaf.part = p;
    leaf.reg = (*op)->target;
    leaf.op = *op;
    leaf.code = (*op)->code;
    leaf.moves.assign(variables, may_move);
    leaf.influence.assign(variables, 0);
    add(bench, leaf, inside);
  }
}

void Skeleton::add(Bench& bench, const Leaf& usual, const std::vector<Reg>& inside) {
  Leaf leaf = usual;
  if (leaf.code == OpCode::in_table) return add_rows(bench, leaf);
  if (leaf.code != OpCode::le && leaf.code != OpCode::lt && leaf.code != OpCode::eq)
    return leaves_.push_back(std::move(leaf));
  leaf.lower = leaf.op->a;
  leaf.upper = leaf.op->b;
  if (leaf.code == OpCode::eq || inside[leaf.lower] == no_reg) return leaves_.push_back(std::move(leaf));
  leaf.has_pieces = true;
  leaves_.push_back(leaf);
  leaf.has_pieces = false;
  leaf.group = 1;
  leaf.lower = inside[leaf.lower];
  leaves_.push_back(leaf);
  leaf.sign = -1;
  leaves_.push_back(std::move(leaf));
}

/// Pieces, where one number is looked up in one column.
void Skeleton::add_rows(Bench& bench, const Leaf& whole) {
  const Lookup& lookup = parts_[whole.part].program->lookups[whole.op->payload];
  leaves_.push_back(whole);
  if (lookup.conditions.size() != 1 || lookup.conditions[0].op != BinaryOp::eq) return;
  const Reg key = lookup.conditions[0].value;
  const auto& value = bench.fast.at(key);
  if (value.kind != ValueKind::number || (value.state & defined) == 0) return;
  const Interval range = bounds(value.number);
  std::vector<Leaf> rows;
  std::size_t number = 0;
  for (const auto& row : bench.index.model.tables[lookup.table].rows) {
    const ConstValue& cell = row[lookup.conditions[0].column];
    if (!cell.number) continue;
    const NumberConst& end = bench.index.model.numbers[cell.number];
    if (intersect(range, end.bounds).is_empty()) continue;
    if (++number > most_rows) return;
    Leaf leaf = whole;
    leaf.lower = key;
    leaf.end = &end;
    leaf.group = number;
    leaf.code = cell.is_range ? OpCode::le : OpCode::eq;
    if (!cell.is_range || !end.exact.hi_infinite) rows.push_back(leaf);
    leaf.sign = -1;
    if (cell.is_range && !end.exact.lo_infinite) rows.push_back(leaf);
  }
  leaves_.back().has_pieces = !rows.empty();
  leaves_.insert(leaves_.end(), rows.begin(), rows.end());
}

/// From a leaf with pieces on: as they tell it, and as it was found whole. `at` comes to the last of them.
Bits Skeleton::pieces_of(std::size_t& at, const std::vector<Bits>& answers) const {
  const std::size_t whole = at;
  Bits any = surely_no;
  while (at + 1 < leaves_.size() && leaves_[at + 1].is_piece() && leaves_[at + 1].op == leaves_[whole].op) {
    const std::size_t group = leaves_[at + 1].group;
    Bits all = surely_yes;
    while (at + 1 < leaves_.size() && leaves_[at + 1].group == group &&
           leaves_[at + 1].op == leaves_[whole].op)
      all = and_bits(all, answers[++at]);
    any = or_bits(any, all);
  }
  const Bits both = answers[whole] & any;
  return both != 0 ? both : answers[whole];
}

Judged Skeleton::judge(const std::vector<Bits>& answers) const {
  Bits results[3] = {surely_yes, surely_yes, surely_yes};
  std::vector<Bits> bits;
  for (std::size_t p = 0; p < part_count_; ++p) {
    bits.assign(parts_[p].program->registers, surely_yes);
    for (std::size_t i = 0; i < leaves_.size(); ++i) {
      const Leaf& leaf = leaves_[i];
      if (leaf.part != p) continue;
      bits[leaf.reg] = leaf.has_pieces ? pieces_of(i, answers) : answers[i];
    }
    for (const Op& op : block(p).ops) {
      if (op.code == OpCode::logical_not) {
        bits[op.target] = not_bits(bits[op.a]);
      } else if (op.code == OpCode::logical_and) {
        bits[op.target] = and_bits(bits[op.a], bits[op.b]);
      } else if (op.code == OpCode::logical_or) {
        bits[op.target] = or_bits(bits[op.a], bits[op.b]);
      } else if (op.code == OpCode::choose) {
        bits[op.target] = choose_bits(bits[op.a], bits[op.b], bits[op.c]);
      }
    }
    results[p] = bits[block(p).result];
  }
  return judged_from(part_count_, results);
}

Judged Skeleton::judge() const {
  std::vector<Bits> answers;
  for (const Leaf& leaf : leaves_) answers.push_back(leaf.bits);
  return judge(answers);
}

}  // namespace mm

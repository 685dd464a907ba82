// A claim that stays open though nothing about the build is: for a table says only a range of numbers, or
// nothing, in the row that is meant.
#include "evaluate/open_cell.hpp"

#include <algorithm>

#include "evaluate/unfold.hpp"
#include "evaluate/varying.hpp"

namespace mm {

namespace {

/// Says more than one value. What only is no fraction says one.
bool says_several(const Model& model, const ConstValue& cell) {
  if (cell.number) {
    const NumberConst& number = model.numbers[cell.number];
    return !number.exact.is_point() && number.pi_power == 0;
  }
  return !cell.symbols || model.sets[cell.symbols].all || model.sets[cell.symbols].members.size() != 1;
}

/// Goes back from a part's result, over what is open, to the cells of tables that it hangs on.
class WayBack {
 public:
  WayBack(Machine<ExactInterval>& machine, const Model& model, const Program& program)
      : machine_(machine), model_(model), program_(program), wanted_(program.registers, 0) {}

  std::optional<TableCell> from(const Block& block) {
    if (is_open(block.result)) wanted_[block.result] = 1;
    for (auto op = block.ops.rbegin(); op != block.ops.rend(); ++op) {
      if (wanted_[op->target] == 0) continue;
      if (op->code == OpCode::lookup)
        if (const auto cell = said_by(*op)) return cell;
      want_inputs(*op);
    }
    return std::nullopt;
  }

 private:
  bool is_open(Reg reg) const { return !is_single(machine_.truth_of(machine_.at(reg))); }

  void want(Reg reg) {
    if (reg != no_reg) wanted_[reg] = 1;
  }

  void want_inputs(const Op& op) {
    switch (op.code) {
      case OpCode::logical_and:
      case OpCode::logical_or:
      case OpCode::logical_not:
        for (const Reg reg : {op.a, op.b})
          if (reg != no_reg && is_open(reg)) want(reg);
        return;
      case OpCode::choose: {
        const Bits condition = machine_.truth_of(machine_.at(op.a));
        if (!is_single(condition)) want(op.a);
        if ((condition & may_yes) != 0) want(op.b);
        if ((condition & may_no) != 0) want(op.c);
        return;
      }
      default:
        // what a quantifier asks that is not written out may be open for other reasons
        if (!is_quantifier(op.code))
          visit_inputs(
              program_, op, [&](Reg reg) { want(reg); }, [](std::uint32_t) {});
    }
  }

  std::optional<TableCell> said_by(const Op& op) {
    const Lookup& lookup = program_.lookups[op.payload];
    const TableDef& table = model_.tables[lookup.table];
    for (const std::uint32_t row : machine_.rows_met(op, false, table.rows.size()))
      if (says_several(model_, table.rows[row][lookup.column]))
        return TableCell{lookup.table, row, lookup.column};
    return said_by_key(lookup);
  }

  /// Which row is meant may hang on a key that says a range: an inequality may hold of it or not.
  std::optional<TableCell> said_by_key(const Lookup& lookup) const {
    const TableDef& table = model_.tables[lookup.table];
    for (const LookupCondition& condition : lookup.conditions) {
      if (condition.op == BinaryOp::eq) continue;
      for (std::uint32_t row = 0; row < table.rows.size(); ++row)
        if (says_several(model_, table.rows[row][condition.column]))
          return TableCell{lookup.table, row, condition.column};
    }
    return std::nullopt;
  }

  Machine<ExactInterval>& machine_;
  const Model& model_;
  const Program& program_;
  std::vector<char> wanted_;  // by register
};

/// With the box as it stands.
std::optional<TableCell> open_cell_here(Bench& bench, const Claim& claim) {
  const Unfolded unfolded(bench, claim);
  const Claim& plain = unfolded.differs() ? unfolded.claim() : claim;
  Claim::Part parts[3];
  const std::size_t count = plain.parts(parts);
  for (std::size_t p = 0; p < count; ++p) {
    bench.sharp.start(*parts[p].program, *plain.binding, bench.world, bench.box);
    bench.sharp.run(parts[p].block);
    if (bench.sharp.spent()) return std::nullopt;
    WayBack back(bench.sharp, bench.index.model, *parts[p].program);
    if (const auto cell = back.from(parts[p].program->blocks[parts[p].block])) return cell;
  }
  return std::nullopt;
}

}  // namespace

std::optional<TableCell> open_cell(Bench& bench, const Claim& claim, const Variables& variables) {
  KeptRanges kept(bench, variables);
  for (const Spot spot : {Spot::middle, Spot::low, Spot::high}) {  // the row may be met at an end alone
    for (std::size_t v = 0; v < variables.size(); ++v) variables.place(bench, v, spot);
    if (const auto cell = open_cell_here(bench, claim)) return cell;
    kept.restore();
  }
  return std::nullopt;
}

}  // namespace mm

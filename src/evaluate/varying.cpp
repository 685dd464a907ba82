#include <algorithm>

#include "evaluate/machine.hpp"

namespace mm {

namespace {

/// Calls `use` with every register that an operation, or a block inside it, may read, and `bind` with every
/// slot.
template <class Use, class Bind>
void visit_inputs(const Program& program, const Op& op, Use use, Bind bind) {
  std::vector<const Op*> rest;
  for (const Op* next = &op; next != nullptr;) {
    if (next->code == OpCode::local || next->code == OpCode::local_number) bind(next->payload);
    for (const Reg reg : {next->a, next->b, next->c}) use(reg);
    if (next->code == OpCode::lookup || next->code == OpCode::in_table) {
      for (const LookupCondition& condition : program.lookups[next->payload].conditions) use(condition.value);
    } else if (next->code >= OpCode::every_entity) {
      const Quantifier& q = program.quantifiers[next->payload];
      for (const Reg reg : {q.reach_from, q.lo, q.hi}) use(reg);
      for (const BlockIndex block : {q.where, q.body}) {
        if (block == no_block) continue;
        use(program.blocks[block].result);
        for (const Op& inner : program.blocks[block].ops) rest.push_back(&inner);
      }
    }
    next = rest.empty() ? nullptr : rest.back();
    if (next != nullptr) rest.pop_back();
  }
}

bool holds_range(const Program& program, const Block& block) {
  std::vector<const Block*> rest{&block};
  while (!rest.empty()) {
    const Block& next = *rest.back();
    rest.pop_back();
    for (const Op& op : next.ops) {
      if (op.code == OpCode::every_number || op.code == OpCode::some_number) return true;
      if (op.code < OpCode::every_entity) continue;
      const Quantifier& q = program.quantifiers[op.payload];
      for (const BlockIndex inner : {q.where, q.body}) {
        if (inner != no_block) rest.push_back(&program.blocks[inner]);
      }
    }
  }
  return false;
}

}  // namespace

std::vector<const Op*> find_varying(const Program& program, const Block& block, std::uint32_t slot) {
  std::vector<const Op*> out;
  // an inner continuous quantifier takes the helpers' registers for itself: run everything
  const bool everything = holds_range(program, block);
  std::vector<char> varies(program.registers, 0);
  for (const Op& op : block.ops) {
    bool moved = everything;
    visit_inputs(
        program, op, [&](Reg reg) { moved = moved || (reg != no_reg && varies[reg] != 0); },
        [&](std::uint32_t bound) { moved = moved || bound == slot; });
    if (!moved) continue;
    varies[op.target] = 1;
    out.push_back(&op);
  }
  return out;
}

std::vector<Reg> find_outer(const Program& program, const Quantifier& q) {
  std::vector<char> set(program.registers, 0);
  std::vector<Reg> read;
  std::vector<const Quantifier*> rest{&q};
  const auto use = [&](Reg reg) {
    if (reg != no_reg) read.push_back(reg);
  };
  while (!rest.empty()) {
    const Quantifier& next = *rest.back();
    rest.pop_back();
    for (const BlockIndex index : {next.where, next.body}) {
      if (index == no_block) continue;
      use(program.blocks[index].result);
      for (const Op& op : program.blocks[index].ops) {
        set[op.target] = 1;
        visit_inputs(program, op, use, [](std::uint32_t) {});
        if (op.code >= OpCode::every_entity) rest.push_back(&program.quantifiers[op.payload]);
      }
    }
  }
  std::sort(read.begin(), read.end());
  read.erase(std::unique(read.begin(), read.end()), read.end());
  std::erase_if(read, [&](Reg reg) { return set[reg] != 0; });
  return read;
}

}  // namespace mm

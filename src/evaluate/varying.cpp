#include "evaluate/varying.hpp"

#include "evaluate/machine.hpp"

namespace mm {

namespace {

bool holds_range(const Program& program, const Block& block) {
  std::vector<const Block*> rest{&block};
  while (!rest.empty()) {
    const Block& next = *rest.back();
    rest.pop_back();
    for (const Op& op : next.ops) {
      if (is_over_range(op.code)) return true;
      if (!is_quantifier(op.code)) continue;
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
  std::vector<char> set(program.registers, 0), read(program.registers, 0);
  std::vector<const Quantifier*> rest{&q};
  const auto use = [&](Reg reg) {
    if (reg != no_reg) read[reg] = 1;
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
        if (is_quantifier(op.code)) rest.push_back(&program.quantifiers[op.payload]);
      }
    }
  }
  std::vector<Reg> out;
  for (Reg reg = 0; reg < program.registers; ++reg)
    if (read[reg] != 0 && set[reg] == 0) out.push_back(reg);
  return out;
}

}  // namespace mm

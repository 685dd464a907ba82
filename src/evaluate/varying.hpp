// What operations read, those inside quantifiers too.
#pragma once
#include <vector>

#include "model/program.hpp"

namespace mm {

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
    } else if (is_quantifier(next->code)) {
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

}  // namespace mm

#include "model/conjuncts.hpp"

#include <algorithm>

namespace mm {

std::vector<const Op*> makers_of(const Block& block, std::size_t registers) {
  std::vector<const Op*> makers(registers, nullptr);
  for (const Op& op : block.ops) makers[op.target] = &op;
  return makers;
}

std::vector<const Op*> conjuncts_of(const Block& block, std::size_t registers) {
  std::vector<const Op*> out;
  if (block.result == no_reg) return out;  // of a text with errors
  std::vector<char> wanted(registers, 0);
  wanted[block.result] = 1;
  for (auto op = block.ops.rbegin(); op != block.ops.rend(); ++op) {
    if (wanted[op->target] == 0) continue;
    if (op->code == OpCode::logical_and)
      wanted[op->a] = wanted[op->b] = 1;
    else
      out.push_back(&*op);
  }
  std::reverse(out.begin(), out.end());
  return out;
}

}  // namespace mm

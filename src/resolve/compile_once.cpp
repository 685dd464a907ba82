// Quantifiers and look-ups that do the same are made once in a program, as other steps are: a guard then
// knows the number that it speaks of, and nothing is worked out twice.
#include <algorithm>
#include <unordered_map>

#include "resolve/compiler.hpp"

namespace mm {

namespace {

constexpr std::size_t most_compared = 8;  // of the latest

/// Two quantifiers of one program, but for the names of their own registers and slots.
class Alike {
 public:
  explicit Alike(const Program& program) : program_(program) {}

  bool quantifiers(const Quantifier& a, const Quantifier& b) {
    if (a.kind != b.kind || a.many_slot != b.many_slot || a.reach_through != b.reach_through) return false;
    if (!same(a.reach_from, b.reach_from) || !same(a.lo, b.lo) || !same(a.hi, b.hi)) return false;
    slots_[b.slot] = a.slot;
    return blocks(a.where, b.where) && blocks(a.body, b.body);
  }

 private:
  bool same(Reg a, Reg b) const {
    const auto at = registers_.find(b);
    return a == (at == registers_.end() ? b : at->second);
  }

  bool blocks(BlockIndex a, BlockIndex b) {
    if (a == no_block || b == no_block) return a == b;
    const Block &first = program_.blocks[a], &second = program_.blocks[b];
    return std::equal(first.ops.begin(), first.ops.end(), second.ops.begin(), second.ops.end(),
                      [&](const Op& x, const Op& y) { return steps(x, y); }) &&
           same(first.result, second.result);
  }

  bool steps(const Op& a, const Op& b) {
    if (a.code != b.code || a.result != b.result || !same(a.a, b.a) || !same(a.b, b.b) || !same(a.c, b.c))
      return false;
    registers_[b.target] = a.target;
    if (a.code == OpCode::local || a.code == OpCode::local_number) {
      const auto at = slots_.find(b.payload);
      return a.payload == (at == slots_.end() ? b.payload : at->second);
    }
    if (a.code == OpCode::lookup || a.code == OpCode::in_table)
      return asks_the_same(program_.lookups[a.payload], program_.lookups[b.payload],
                           [&](Reg x, Reg y) { return same(x, y); });
    if (is_quantifier(a.code))
      return quantifiers(program_.quantifiers[a.payload], program_.quantifiers[b.payload]);
    return a.payload == b.payload;
  }

  const Program& program_;
  std::unordered_map<Reg, Reg> registers_;                  // of the second: those of the first
  std::unordered_map<std::uint32_t, std::uint32_t> slots_;  // the same
};

}  // namespace

Operand Compiler::emit_lookup(OpCode code, Type type, Lookup lookup) {
  auto& lookups = program_.lookups;
  const std::size_t from = lookups.size() - std::min(lookups.size(), most_compared);
  const auto known = std::find_if(
      lookups.begin() + static_cast<std::ptrdiff_t>(from), lookups.end(),
      [&](const Lookup& one) { return asks_the_same(one, lookup, [](Reg a, Reg b) { return a == b; }); });
  const auto index = static_cast<std::uint32_t>(known - lookups.begin());
  if (known == lookups.end()) lookups.push_back(std::move(lookup));
  return emit(code, type, no_reg, no_reg, no_reg, index);
}

/// What was made for it since `before` goes again where it was there already.
Operand Compiler::emit_quantifier(OpCode code, Type type, Quantifier quantifier, const Made& before) {
  const Reg a = quantifier.lo != no_reg ? quantifier.lo : quantifier.reach_from, b = quantifier.hi;
  for (const OpenBlock& open : open_) {
    std::size_t left = most_compared;
    for (auto at = open.quantifiers.rbegin(); at != open.quantifiers.rend() && left-- > 0; ++at) {
      const Op* known = step_of(*at);
      if (known == nullptr || known->code != code || known->a != a || known->b != b) continue;
      if (!Alike(program_).quantifiers(program_.quantifiers[known->payload], quantifier)) continue;
      program_.blocks.resize(before.blocks);
      program_.lookups.resize(before.lookups);
      program_.quantifiers.resize(before.quantifiers);
      Operand operand;
      operand.reg = known->target;
      operand.type = types_[known->target];
      return operand;
    }
  }
  program_.quantifiers.push_back(std::move(quantifier));
  const Operand made =
      emit(code, type, a, b, no_reg, static_cast<std::uint32_t>(program_.quantifiers.size() - 1));
  open_.back().quantifiers.push_back(made.reg);
  return made;
}

}  // namespace mm

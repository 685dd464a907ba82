// What a machine keeps of a program that it has run on one joint or match: the registers, and what each of
// them hangs on. Run again on a narrowed box, only what hangs on an open value is worked out anew; the rest
// of a brake-force formula, say, has been settled by the values that are known exactly.
#pragma once
#include <algorithm>
#include <bit>
#include <vector>

#include "evaluate/box.hpp"
#include "evaluate/results.hpp"

namespace mm {

/// A set: bit `slot` for each quantifier's variable, the last one for "some open value of the build".
using Hangs = std::uint64_t;
inline constexpr Hangs on_nothing = 0, on_anything = ~Hangs{0}, on_open_value = Hangs{1} << 63U;
inline constexpr std::uint32_t shared_slot = 62;  // slots from here on share a bit
inline constexpr Hangs on_slot(std::uint32_t slot) { return Hangs{1} << std::min(slot, shared_slot); }
/// What of `inner` is left outside the quantifier that binds the slot.
inline constexpr Hangs outside_of(Hangs inner, std::uint32_t slot) {
  return slot < shared_slot ? inner & ~on_slot(slot) : inner;
}

/// Room that is there from the start; few programs have more.
inline constexpr std::size_t usual_registers = 256;

template <class Value>
struct Frame {
  std::vector<Value> registers;
  std::vector<Hangs> hangs;       // by register; on_anything: not run yet
  std::vector<SymbolicSet> made;  // by register: a union that it holds

  /// The same program on the same entities in the same state of the build, and not given up half way.
  bool is_for(const Program& program, const Binding& binding, const World& world, const Box& box) const {
    return program_ == &program && world_ == &world && box_ == &box && changes_ == world.changes() &&
           locals_ == binding.locals && lists_ == binding.lists;
  }
  void renew(const Program& program) {
    program_ = nullptr;
    if (registers.size() < program.registers) {
      const std::size_t room = std::bit_ceil(std::max<std::size_t>(program.registers, usual_registers));
      registers.reserve(room);
      made.reserve(room);
      hangs.reserve(room);
      registers.resize(program.registers);
      made.resize(program.registers);
    }
    hangs.assign(program.registers, on_anything);
  }
  void keep_for(const Program& program, const Binding& binding, const World& world, const Box& box) {
    program_ = &program;
    world_ = &world;
    box_ = &box;
    changes_ = world.changes();
    locals_ = binding.locals;
    lists_ = binding.lists;
  }
  void forget() { program_ = nullptr; }

 private:
  const Program* program_ = nullptr;
  const World* world_ = nullptr;
  const Box* box_ = nullptr;
  std::uint64_t changes_ = 0;
  std::vector<EntityId> locals_;
  std::vector<std::vector<EntityId>> lists_;
};

}  // namespace mm

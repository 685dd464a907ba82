// What a machine keeps of a program that it has run on one joint or match: the registers, and what each of
// them hangs on. Run again on a narrowed box, only what hangs on a cell that was narrowed is worked out anew;
// most of a brake-force formula stands when one of its values is tried at an end of its range.
#pragma once
#include <algorithm>
#include <bit>
#include <vector>

#include "evaluate/box.hpp"
#include "evaluate/read_log.hpp"
#include "evaluate/results.hpp"

namespace mm {

/// Room that is there from the start; few programs have more.
inline constexpr std::size_t usual_registers = 128;

template <class Value>
struct Frame {
  std::vector<Value> registers;
  std::vector<Hangs> hangs;       // by register; on_anything: not run yet, or out of date
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
  /// Takes note of what changed since the program was last taken up: cells of the box, the cell in which
  /// slopes are taken, the fineness of ranges.
  void keep_up(const Box& box, CellId active, std::size_t range_pieces) {
    Hangs changed = box.changed_since(moment_);
    if (active_ != active) changed |= on_cell(active_) | on_cell(active);
    if (range_pieces_ != range_pieces) changed |= on_fineness;
    moment_ = box.moment();
    active_ = active;
    range_pieces_ = range_pieces;
    if (changed == on_nothing) return;
    for (Hangs& on : hangs) on = (on & changed) != 0 ? on_anything : on;
  }
  /// What it holds was read since the log was last started; null: no log wants to know.
  bool is_logged(const ReadLog* log) const {
    return log == nullptr || (log_ == log && session_ == log->session());
  }
  void keep_for(const Program& program, const Binding& binding, const World& world, const Box& box,
                const ReadLog* log) {
    log_ = log;
    session_ = log != nullptr ? log->session() : 0;
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
  const ReadLog* log_ = nullptr;  // that was on when it was made
  std::uint64_t session_ = 0;     // of that
  std::uint64_t changes_ = 0;
  std::uint64_t moment_ = 0;  // of the box
  CellId active_;
  std::size_t range_pieces_ = 0;
  std::vector<EntityId> locals_;
  std::vector<std::vector<EntityId>> lists_;
};

}  // namespace mm

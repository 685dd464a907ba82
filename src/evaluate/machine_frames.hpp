// Body of Machine: taking up a program, running its blocks, and what each register hangs on. Included by the
// files that instantiate it.
#pragma once
#include "evaluate/machine_impl.hpp"

namespace mm {

/// A number as another machine holds it.
inline void convert(Interval& to, const ExactInterval& from) { to = to_interval(from); }
inline void convert(Dual& to, const Interval& from) { to = Dual{from}; }
inline void convert(Dual& to, const ExactInterval& from) { to = Dual{to_interval(from)}; }
inline void convert(ExactDual& to, const ExactInterval& from) { to = ExactDual{from}; }

template <class Num>
void Machine<Num>::size_slots(const Program& program) {
  if (locals_.size() < program.slots) locals_.resize(program.slots);
  if (slot_numbers_.size() < program.slots) slot_numbers_.resize(program.slots);
}

template <class Num>
void Machine<Num>::take_frame(Frame<Value>& frame) {
  frame_ = &frame;
  registers_ = frame.registers.data();
  hangs_ = frame.hangs.data();
}

template <class Num>
void Machine<Num>::forget() {
  for (Frame<Value>& frame : frames_) frame.forget();
  if (slopes_ != nullptr) slopes_->forget();
  if (doubles_ != nullptr) doubles_->forget();
  if (exact_slopes_ != nullptr) exact_slopes_->forget();
}

template <class Num>
void Machine<Num>::forget_programs() {
  forget();
  varying_.clear();
  outer_.clear();
  reached_.clear();
  reached_count_ = 0;
  if (slopes_ != nullptr) slopes_->forget_programs();
  if (doubles_ != nullptr) doubles_->forget_programs();
  if (exact_slopes_ != nullptr) exact_slopes_->forget_programs();
}

/// The frame of this program on these entities, if it is still there; else the one that was not used last.
template <class Num>
void Machine<Num>::take_frame(const Program& program, const Binding& binding, const World& world,
                              const Box& box) {
  for (Frame<Value>& frame : frames_) {
    if (!frame.is_logged(log_) || !frame.is_for(program, binding, world, box)) continue;
    frame.keep_up(box, active_, limits.range_pieces);
    return take_frame(frame);
  }
  Frame<Value>& frame = frame_ == &frames_[0] ? frames_[1] : frames_[0];
  frame.renew(program);
  frame.keep_for(program, binding, world, box, log_);
  frame.keep_up(box, active_, limits.range_pieces);
  take_frame(frame);
}

template <class Num>
void Machine<Num>::start(const Program& program, const Binding& binding, const World& world, const Box& box) {
  program_ = &program;
  binding_ = &binding;
  world_ = &world;
  box_ = &box;
  index_ = &world.index();
  self_ = nullptr;
  seen_ = on_nothing;
  size_slots(program);
  take_frame(program, binding, world, box);
  const std::size_t given = std::min<std::size_t>(binding.locals.size(), program.slots);
  std::copy_n(binding.locals.begin(), given, locals_.begin());
  for (const FreeNumber& free : program.free_numbers)
    load_range(slot_numbers_[free.slot], free.range, to_interval(free.range));
}

template <class Num>
void Machine<Num>::start_field(const Program& program, const SymbolicSet* self) {
  program_ = &program;
  binding_ = nullptr;
  world_ = nullptr;
  box_ = nullptr;
  index_ = nullptr;
  self_ = self;
  seen_ = on_nothing;
  size_slots(program);
  frames_[0].renew(program);
  take_frame(frames_[0]);
}

template <class Num>
const MachineValue<Num>& Machine<Num>::run(BlockIndex block) {
  const Block& code = program_->blocks[block];
  constexpr std::int64_t cost = is_exact ? exact_cost : 1;
  std::int64_t worked = 1;
  for (const Op& op : code.ops) {
    if ((hangs_[op.target] & on_any_slot) == 0) {
      seen_ |= hangs_[op.target];
      continue;
    }
    step(op);
    ++worked;
  }
  limits.steps -= cost * worked;
  if (spent()) frame_->forget();
  seen_ |= hangs_[code.result];  // maybe of a block further out, with no operation here
  return registers_[code.result];
}

/// A block of a quantifier for its next item: the whole block at first, then what varies with the item.
template <class Num>
const MachineValue<Num>& Machine<Num>::run_item(BlockIndex index, std::uint32_t slot, bool& ran) {
  if (!ran) {
    ran = true;
    return run(index);
  }
  constexpr std::int64_t cost = is_exact ? exact_cost : 1;
  const std::vector<const Op*>& ops = varying(index, slot);
  limits.steps -= cost * (static_cast<std::int64_t>(ops.size()) + 1);
  for (const Op* op : ops) step(*op);
  return registers_[program_->blocks[index].result];
}

template <class Num>
const std::vector<const Op*>& Machine<Num>::varying(BlockIndex index, std::uint32_t slot) {
  const Block& block = program_->blocks[index];
  const auto [at, fresh] = varying_.try_emplace(&block);
  if (fresh) at->second = find_varying(*program_, block, slot);
  return at->second;
}

/// What the result of an operation hangs on, quantifiers aside.
template <class Num>
Hangs Machine<Num>::hangs_on(const Op& op) const {
  Hangs on = op.a != no_reg ? hangs_[op.a] : on_nothing;
  if (op.b != no_reg) on |= hangs_[op.b];
  if (op.c != no_reg) on |= hangs_[op.c];
  switch (op.code) {
    case OpCode::local:
      // a many side's slot holds no entity of its own: it is its quantifier's variable
      if (binding_ != nullptr && (op.payload >= binding_->locals.size() || !binding_->locals[op.payload]))
        on |= on_slot(op.payload);
      break;
    case OpCode::local_number:
      on |= on_slot(op.payload);
      break;
    case OpCode::attribute: {
      const Value& owner = registers_[op.a];
      if ((owner.state & defined) != 0) {
        const CellId cell = world_->cell(owner.entity, op.payload);
        if (index_->is_open(cell)) on |= on_cell(cell);
      }
      break;
    }
    case OpCode::lookup:
    case OpCode::in_table:
      for (const LookupCondition& condition : program_->lookups[op.payload].conditions)
        on |= hangs_[condition.value];
      break;
    default:
      break;
  }
  return on;
}

template <class Num>
void Machine<Num>::step(const Op& op) {
  if (is_quantifier(op.code)) {
    quantify(op, registers_[op.target]);
  } else {
    work_out(op);
    hangs_[op.target] = hangs_on(op);
  }
  seen_ |= hangs_[op.target];
}

template <class Num>
const std::vector<Reg>& Machine<Num>::outer_registers(const Quantifier& q) {
  const auto [at, fresh] = outer_.try_emplace(&q);
  if (fresh) at->second = find_outer(*program_, q);
  return at->second;
}

/// Goes on where another machine stands, with its own registers inside the quantifier.
template <class Num>
template <class Other>
void Machine<Num>::adopt(const Machine<Other>& other, const std::vector<Reg>& outer) {
  active_ = CellId{};
  limits.steps = other.limits.steps;
  rows_ = other.rows_;
  if (other.binding_ != nullptr) {
    start(*other.program_, *other.binding_, *other.world_, *other.box_);
  } else {
    start_field(*other.program_, other.self_);
  }
  locals_ = other.locals_;
  for (std::size_t i = 0; i < program_->slots; ++i) convert(slot_numbers_[i], other.slot_numbers_[i]);
  for (const Reg reg : outer) {
    Value& mine = registers_[reg];
    const auto& theirs = other.registers_[reg];
    convert(mine.number, theirs.number);
    mine.exact = theirs.exact;
    mine.symbols = theirs.symbols;
    mine.entity = theirs.entity;
    mine.cell = theirs.cell;
    mine.state = theirs.state;
    mine.kind = theirs.kind;
    mine.direction = still;
    hangs_[reg] = other.hangs_[reg];
  }
}

}  // namespace mm

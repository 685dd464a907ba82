#include "evaluate/unfold.hpp"

#include <algorithm>

#include "evaluate/unfold_writer.hpp"

namespace mm {

namespace {

constexpr std::int64_t most_written = 3000;  // operations, of one claim
constexpr std::size_t most_items = 24;       // of one quantifier

}  // namespace

Unfolded::Unfolded(Bench& bench, const Claim& claim, Extent extent)
    : bench_(&bench), claim_(claim), binding_(*claim.binding) {
  Claim::Part parts[3];
  const std::size_t count = claim.parts(parts);
  // slots of quantifiers come after the bound ones, and keep their numbers
  for (std::size_t p = 0; p < count; ++p)
    binding_.locals.resize(std::max<std::size_t>(binding_.locals.size(), parts[p].program->slots));
  std::int64_t room = most_written;
  for (std::size_t p = 0; p < count; ++p) {
    UnfoldWriter writer(bench, claim, parts[p], binding_, room, extent);
    differs_ = differs_ || writer.differs();
    says_more_ = says_more_ || writer.says_more();
    programs_.push_back(writer.take());
  }
  bench.fast.limits.steps -= most_written - std::max<std::int64_t>(room, 0);
  differs_ = differs_ && room >= 0 && !bench.spent();
  for (const Program& program : programs_) parts_.push_back({&program, 0});
  claim_.binding = &binding_;
  claim_.written = &parts_;
}

bool Unfolded::is_free() const {
  return std::any_of(programs_.begin(), programs_.end(), [](const Program& program) {
    return std::any_of(program.free_numbers.begin(), program.free_numbers.end(),
                       [](const FreeNumber& free) { return !free.range.is_point(); });
  });
}

/// Else nobody has run them.
Unfolded::~Unfolded() {
  if (differs_) bench_->forget_programs();
}

UnfoldWriter::UnfoldWriter(Bench& bench, const Claim& claim, const Claim::Part& part, Binding& binding,
                           std::int64_t& room, Extent extent)
    : bench_(bench), from_(*part.program), binding_(binding), room_(room), extent_(extent) {
  bench.fast.start(from_, *claim.binding, bench.world, bench.box);
  bench.fast.run(part.block);
  regs_.assign(from_.registers, no_reg);
  numbers_.assign(from_.slots, no_reg);
  for (std::uint32_t slot = 0; slot < from_.slots; ++slot) slots_.push_back(slot);
  out_.blocks.emplace_back();
  std::vector<Op> ops;
  into_ = &ops;
  const Reg result = write(part.block);
  out_.blocks[0] = {std::move(ops), result};
  out_.slots = static_cast<std::uint32_t>(binding.locals.size());
}

Reg UnfoldWriter::write(BlockIndex index) {
  const Block& block = from_.blocks[index];
  for (const Op& op : block.ops) write(op);
  return regs_[block.result];
}

void UnfoldWriter::write(const Op& op) {
  if (room_ < 0) {
    regs_[op.target] = 0;
    return;
  }
  if (op.code == OpCode::local_number && numbers_[op.payload] != no_reg) {
    regs_[op.target] = numbers_[op.payload];
  } else if (is_quantifier(op.code)) {
    const bool range = is_over_range(op.code);
    if (!as_it_stands_ && (range ? over_range(op) : over_items(op))) return;
    keep(op);
    if (range && !as_it_stands_ && extent_ == Extent::fully) add_witnesses(op);
  } else if (!as_it_stands_ && is_comparison(op.code)) {
    regs_[op.target] = compare(copied(op));
  } else if (!as_it_stands_ && extent_ == Extent::fully && is_rounding(op.code)) {
    regs_[op.target] = rounded(copied(op), op);
  } else if (!as_it_stands_ && (op.code == OpCode::in_table || op.code == OpCode::lookup)) {
    regs_[op.target] = look_up(copied(op), was_defined(op));
  } else {
    copy(op);
  }
}

/// What is written already is not written again.
Reg UnfoldWriter::add(Op op, bool is_defined) {
  const Key key{op.code, op.result, op.a, op.b, op.c, op.payload};
  const bool once = !as_it_stands_ && !is_quantifier(op.code);
  if (const auto at = known_.find(key); once && at != known_.end()) return at->second;
  --room_;
  op.target = out_.registers++;
  into_->push_back(op);
  made_.push_back({op, is_defined, holds_choice(op)});
  if (once) known_.emplace(key, op.target);
  return op.target;
}

Reg UnfoldWriter::add_truth(OpCode code, Reg a, Reg b, Reg c) {
  return add(fresh(code, TypeKind::boolean, a, b, c));
}

Reg UnfoldWriter::constant(bool truth) {
  Op op = fresh(OpCode::truth, TypeKind::boolean);
  op.payload = truth ? 1 : 0;
  return add(op, true);
}

Op UnfoldWriter::copied(const Op& op) {
  Op out = op;
  for (Reg* reg : {&out.a, &out.b, &out.c})
    if (*reg != no_reg) *reg = regs_[*reg];
  if (op.code == OpCode::local || op.code == OpCode::local_number) out.payload = slots_[op.payload];
  if (op.code == OpCode::lookup || op.code == OpCode::in_table) out.payload = copied_lookup(op.payload);
  return out;
}

bool UnfoldWriter::was_defined(const Op& op) const {
  return !as_it_stands_ && !is_unsure_ && bench_.fast.at(op.target).state == defined;
}

void UnfoldWriter::copy(const Op& op) { regs_[op.target] = add(copied(op), was_defined(op)); }

std::uint32_t UnfoldWriter::copied_lookup(std::uint32_t payload) {
  Lookup lookup = from_.lookups[payload];
  for (LookupCondition& condition : lookup.conditions) condition.value = regs_[condition.value];
  return add_lookup(std::move(lookup));
}

std::uint32_t UnfoldWriter::add_lookup(Lookup lookup) {
  const auto same = [&](const Lookup& other) {
    return asks_the_same(other, lookup, [](Reg a, Reg b) { return a == b; });
  };
  const auto at = std::find_if(out_.lookups.begin(), out_.lookups.end(), same);
  const auto index = static_cast<std::uint32_t>(at - out_.lookups.begin());
  if (at == out_.lookups.end()) out_.lookups.push_back(std::move(lookup));
  return index;
}

void UnfoldWriter::keep(const Op& op) {
  Quantifier q = from_.quantifiers[op.payload];
  for (Reg* reg : {&q.reach_from, &q.lo, &q.hi})
    if (*reg != no_reg) *reg = regs_[*reg];
  const std::uint32_t slot = std::exchange(slots_[q.slot], q.slot);
  const Reg number = std::exchange(numbers_[q.slot], no_reg);
  q.where = kept(q.where);
  q.body = kept(q.body);
  slots_[q.slot] = slot;
  numbers_[q.slot] = number;
  Op out = copied(op);
  out.payload = static_cast<std::uint32_t>(out_.quantifiers.size());
  out_.quantifiers.push_back(std::move(q));
  regs_[op.target] = add(out);
}

BlockIndex UnfoldWriter::kept(BlockIndex index) {
  if (index == no_block) return no_block;
  std::vector<Op> ops;
  std::vector<Op>* const outer = std::exchange(into_, &ops);
  const bool before = std::exchange(as_it_stands_, true);
  const Reg result = write(index);
  into_ = outer;
  as_it_stands_ = before;
  out_.blocks.push_back({std::move(ops), result});
  return static_cast<BlockIndex>(out_.blocks.size() - 1);
}

std::uint32_t UnfoldWriter::slot_for(EntityId entity) {
  const auto begin = binding_.locals.begin() + from_.slots;
  auto at = std::find(begin, binding_.locals.end(), entity);
  if (at == binding_.locals.end()) at = binding_.locals.insert(at, entity);
  return static_cast<std::uint32_t>(at - binding_.locals.begin());
}

/// Whether an item is one of those meant.
Bits UnfoldWriter::there(const Quantifier& q, EntityId item) {
  bench_.fast.bind(q.slot, item);
  return q.where == no_block ? surely_yes : bench_.fast.truth(q.where);
}

Reg UnfoldWriter::written_for(const Quantifier& q, EntityId item, BlockIndex block) {
  bench_.fast.bind(q.slot, item);
  bench_.fast.run(block);
  slots_[q.slot] = slot_for(item);
  return write(block);
}

bool UnfoldWriter::over_items(const Op& op) {
  const Quantifier& q = from_.quantifiers[op.payload];
  if (q.reach_from != no_reg && bench_.fast.at(q.reach_from).state != defined) return false;
  std::vector<EntityId> scratch;
  const auto domain = bench_.fast.domain(q, scratch);
  if (domain.size() > most_items || bench_.spent()) return false;
  const std::vector<EntityId> items(domain.begin(), domain.end());
  const std::uint32_t slot = slots_[q.slot];
  const bool truth = op.code == OpCode::every_entity || op.code == OpCode::some_entity;
  const bool done = truth ? all_or_some(op, q, items) : together(op, q, items);
  slots_[q.slot] = slot;
  differs_ = differs_ || done;
  return done;
}

/// Of one item, or one number of a range: `where and body`, or for every one `not where or body`. Either may
/// be missing.
Reg UnfoldWriter::asked(bool some, Reg where, Reg body) {
  Reg out = where;
  if (where != no_reg && !some) out = add_truth(OpCode::logical_not, where);
  if (body != no_reg)
    out = out == no_reg ? body : add_truth(some ? OpCode::logical_and : OpCode::logical_or, out, body);
  return out == no_reg ? constant(true) : out;
}

bool UnfoldWriter::all_or_some(const Op& op, const Quantifier& q, const std::vector<EntityId>& items) {
  const bool some = op.code == OpCode::some_entity;
  Reg all = no_reg;
  for (const EntityId item : items) {
    const Bits where = there(q, item);
    if (where == surely_no) continue;
    const Reg there_is = where == surely_yes ? no_reg : written_for(q, item, q.where);
    const Reg body = q.body == no_block ? no_reg : written_for(q, item, q.body);
    const Reg one = asked(some, there_is, body);
    all = all == no_reg ? one : add_truth(some ? OpCode::logical_or : OpCode::logical_and, all, one);
  }
  regs_[op.target] = all == no_reg ? constant(!some) : all;
  return true;
}

}  // namespace mm

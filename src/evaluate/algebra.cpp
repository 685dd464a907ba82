#include "evaluate/algebra.hpp"

#include <algorithm>

#include "evaluate/counted_sheets.hpp"

namespace mm {

namespace {

constexpr std::int64_t most_products = 50'000;  // of single terms, in one claim
constexpr std::size_t most_items = 24;          // of one quantifier

enum : std::uint64_t { cell_key = 1000, entity_key, number_key, unlike_key, atom_key, sheets_key };

/// A truth is none, though it may be read as 0 or 1.
bool is_number(const Op& op) {
  return op.result == TypeKind::quantity || op.result == TypeKind::count || op.result == TypeKind::date;
}

}  // namespace

Form Algebra::of(Polynomial number) {
  const auto [at, fresh] = numbers_.try_emplace(std::move(number), next_);
  if (fresh) ++next_;
  return {at->second, &at->first};
}

Form Algebra::keyed(const Key& key) {
  const auto [at, fresh] = keys_.try_emplace(key, next_);
  if (fresh) ++next_;
  return {at->second, nullptr};
}

Form Algebra::atom(const Key& key, const Atom& atom, const ExactInterval& range) {
  Key full = key;
  full.push_back(atom_key);
  const auto [at, fresh] = keys_.try_emplace(std::move(full), static_cast<std::uint32_t>(atoms_.size()));
  if (fresh) {
    atoms_.push_back(atom);
    ranges_.push_back(range);
  }
  return of(Polynomial::of_atom(at->second));
}

/// What the register may hold where it is defined.
Interval Algebra::range_at(Reg reg) const {
  const auto& value = bench_->fast.at(reg);
  if (value.kind == ValueKind::number && (value.state & defined) == 0) return Interval::entire();
  return bounds(bench_->fast.number_of(value));
}

/// Of a value that is stated once and is not set: of the unit it is written in.
int Algebra::pi_power_of(CellId cell) const {
  const Cell& its = bench_->index.build.cells[cell];
  if (!its.given || (its.flags & (cell_adjustable | cell_disputed)) != 0) return 0;
  const Given& given = bench_->index.build.givens[its.given];
  if (!given.of_pi) return 0;
  const ExactInterval &whole = bench_->index.exact(cell), here = bench_->box.exact(cell);
  const bool narrowed = here.lo_value != whole.lo_value || here.hi_value != whole.hi_value;
  return narrowed ? 0 : given.unit->pi_power;
}

void Algebra::enter_box() {
  for (std::size_t i = 0; i < atoms_.size(); ++i)
    if (atoms_[i].cell) ranges_[i] = bench_->box.exact(atoms_[i].cell);
}

Algebra::Key Algebra::key(const Op& op, std::uint64_t payload) const {
  Key out{static_cast<std::uint64_t>(op.code), payload};
  for (const Reg reg : {op.a, op.b, op.c}) out.push_back(reg == no_reg ? 0 : operand(reg).id);
  return out;
}

Form Algebra::same_of(const Op& op, std::uint64_t payload) {
  return is_number(op) ? opaque(key(op, payload), op.target) : keyed(key(op, payload));
}

/// A number of which only its range is known; or that it is one, as what a table gives of one row.
Form Algebra::opaque(const Key& key, Reg reg) {
  if (const Rational* number = bench_->fast.at(reg).exact; number != nullptr) return of(*number);
  const Interval range = range_at(reg);
  return range.is_point() ? of(exact(range.hi)) : atom(key, {}, ExactInterval::from(range));
}

/// One of its own: of each register in each program, for each item of a quantifier.
Form Algebra::unlike_all(const Op& op) {
  const Key own{unlike_key, program_, op.target, item_.index};
  return is_number(op) ? opaque(own, op.target) : keyed(own);
}

void Algebra::take(const Claim& claim) {
  numbers_.clear();
  keys_.clear();
  atoms_.clear();
  ranges_.clear();
  next_ = 1;
  products_left_ = most_products;
  Claim::Part parts[3];
  const std::size_t count = claim.parts(parts);
  for (std::size_t p = 0; p < count; ++p) {
    const Program& program = *parts[p].program;
    for (program_ = 0; parts[program_].program != &program;) ++program_;
    part_ = &forms_[p];
    part_->assign(program.registers, {});
    bench_->fast.start(program, *claim.binding, bench_->world, bench_->box);
    bench_->fast.run(parts[p].block);
    truths_.assign(program.registers, anything);
    for (const Op& op : program.blocks[parts[p].block].ops) take(op, program);
  }
}

/// Of a register that is no number: its truth, also where forms alone tell it.
Bits Algebra::truth_of(const Op& op) const {
  const Bits bits = bench_->fast.truth_of(bench_->fast.at(op.target));
  if (bits != undecided) return bits;
  switch (op.code) {
    case OpCode::lt:
    case OpCode::le:
    case OpCode::eq: {
      const Polynomial* a = operand(op.a).number;
      const Polynomial* b = operand(op.b).number;
      const auto slack = a != nullptr && b != nullptr ? sum(*b, *a, -1) : std::nullopt;
      if (!slack || !slack->is_constant()) return bits;
      return answer_of(op.code, slack->constant().sign());
    }
    case OpCode::logical_not:
      return not_bits(truths_[op.a]);
    case OpCode::logical_and:
      return and_bits(truths_[op.a], truths_[op.b]);
    case OpCode::logical_or:
      return or_bits(truths_[op.a], truths_[op.b]);
    default:
      return bits;
  }
}

Form Algebra::form_of(const Op& op, const Program& program) {
  switch (op.code) {
    case OpCode::local:
    case OpCode::mate:
    case OpCode::part_of:
    case OpCode::face_of: {
      const auto& value = bench_->fast.at(op.target);
      if (value.kind != ValueKind::entity || !value.entity) return unlike_all(op);
      return keyed({entity_key, value.entity.index});
    }
    case OpCode::attribute: {
      const auto& owner = bench_->fast.at(op.a);
      if (!owner.entity || (owner.state & defined) == 0) return unlike_all(op);
      const CellId cell = bench_->world.cell(owner.entity, op.payload);
      const Key at{cell_key, cell.index};
      if (bench_->fast.at(op.target).kind != ValueKind::number) return keyed(at);
      const Rational* point = bench_->box.point(cell);
      if (point != nullptr) return of(*point);
      if (auto multiple = of_pi(bench_->box.exact(cell), pi_power_of(cell), at))
        return of(*std::move(multiple));
      return atom(at, {OpCode::attribute, nullptr, cell}, bench_->box.exact(cell));
    }
    case OpCode::number: {
      const NumberConst& number = bench_->index.model.numbers[NumberId{op.payload}];
      if (number.exact.is_point()) return of(number.exact.lo_value);
      const Key at{number_key, op.payload};
      if (auto exactly = of_pi(number.exact, number.pi_power, at)) return of(*std::move(exactly));
      return atom(at, {}, number.exact);
    }
    case OpCode::truth:
    case OpCode::symbolic:
    case OpCode::field:
    case OpCode::form_is:
    case OpCode::lt:
    case OpCode::le:
    case OpCode::eq:
    case OpCode::same:
    case OpCode::logical_and:
    case OpCode::logical_or:
    case OpCode::logical_not:
      return same_of(op, op.payload);
    case OpCode::choose: {
      const Bits condition = truths_[op.a];
      if (condition == surely_yes) return operand(op.b);
      if (condition == surely_no) return operand(op.c);
      return operand(op.b).id == operand(op.c).id ? operand(op.b) : same_of(op, 0);
    }
    case OpCode::lookup:
    case OpCode::in_table:
      return look_up(op, program.lookups[op.payload]);
    case OpCode::local_number: {
      for (const FreeNumber& free : program.free_numbers)
        if (free.slot == op.payload && free.range.is_point()) return of(free.range.lo_value);
      for (const FreeNumber& free : program.free_numbers)
        if (free.slot == op.payload)
          return atom({static_cast<std::uint64_t>(op.code), op.payload}, {}, free.range);
      return unlike_all(op);
    }
    case OpCode::every_number:
    case OpCode::some_number:
      return unlike_all(op);
    default:
      return is_over_entities(op.code) ? over_items(op, program) : arithmetic(op);
  }
}

Form Algebra::look_up(const Op& op, const Lookup& lookup) {
  Key at{static_cast<std::uint64_t>(op.code), lookup.table.index, lookup.column};
  for (const LookupCondition& condition : lookup.conditions) {
    at.push_back(condition.column);
    at.push_back(static_cast<std::uint64_t>(condition.op));
    at.push_back(operand(condition.value).id);
  }
  return is_number(op) ? opaque(at, op.target) : keyed(at);
}

/// Of every item of a quantifier over parts or faces: its `where` and its body. Empty where there are too
/// many.
std::vector<Algebra::Item> Algebra::items_of(const Quantifier& q, const Program& program) {
  std::vector<Item> out;
  std::vector<EntityId> scratch;
  const auto domain = bench_->fast.domain(q, scratch);
  if (domain.size() > most_items || item_) return out;
  const std::vector<EntityId> entities(domain.begin(), domain.end());
  CountedSheets sheets(q, bench_->world);
  for (const EntityId entity : entities) {
    if (sheets.has(entity)) continue;
    Item item{{}, surely_yes, {}, sheets.any() ? sheets.sheet_of(entity) : no_reg};
    bench_->fast.bind(q.slot, entity);
    item_ = entity;
    for (const BlockIndex index : {q.where, q.body}) {
      if (index == no_block) continue;
      bench_->fast.run(index);
      const Block& block = program.blocks[index];
      for (const Op& inner : block.ops) take(inner, program);
      (index == q.body ? item.body : item.where) = operand(block.result);
      if (index == q.where) item.there = truths_[block.result];
    }
    item_ = EntityId{};
    if (item.there != surely_no) out.push_back(item);
    if (item.there == surely_yes) sheets.add(entity);
  }
  return out;
}

/// A sum over parts that are surely there is what is added up, the least or greatest of one is that one; else
/// the same of the same items is the same.
Form Algebra::over_items(const Op& op, const Program& program) {
  const Quantifier& q = program.quantifiers[op.payload];
  const std::vector<Item> items = items_of(q, program);
  if (items.empty()) return unlike_all(op);
  const bool all_there =
      std::all_of(items.begin(), items.end(), [](const Item& item) { return item.there == surely_yes; });
  if (all_there && op.code == OpCode::sum_entities) {
    std::optional<Polynomial> out = Polynomial();
    for (const Item& item : items)
      out = out && item.body.number != nullptr ? sum(*out, *item.body.number, 1) : std::nullopt;
    if (out) return of(*out);
  }
  const bool extreme = op.code == OpCode::min_entities || op.code == OpCode::max_entities;
  if (all_there && extreme && items.size() == 1 && items[0].body.number != nullptr) return items[0].body;
  Key at;
  if (q.once_a_sheet) at.push_back(sheets_key);
  at.push_back(static_cast<std::uint64_t>(op.code));
  for (const Item& item : items) {
    if (q.once_a_sheet) at.push_back(item.sheet);
    at.push_back(item.where.id);
    at.push_back(item.body.id);
  }
  return is_number(op) ? opaque(at, op.target) : keyed(at);
}

void Algebra::take(const Op& op, const Program& program) {
  bench_->fast.limits.steps -= exact_cost;
  (*part_)[op.target] = form_of(op, program);
  if (!is_number(op)) truths_[op.target] = truth_of(op);
}

}  // namespace mm

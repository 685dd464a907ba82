#include "evaluate/variables.hpp"

#include <algorithm>

namespace mm {

namespace {

constexpr std::size_t most_members = 64;

void add_members(std::vector<std::uint32_t>& into, const SymbolicSet& set) {
  into.insert(into.end(), set.members.begin(), set.members.end());
}

/// Every symbol that the claim's programs name, in constants and in the tables they use.
std::vector<std::uint32_t> named_symbols(const Model& model, const Claim& claim, DesignationId designation) {
  std::vector<std::uint32_t> out;
  Claim::Part parts[3];
  const std::size_t count = claim.parts(parts);
  const auto wanted = [&](TypeKind kind, DesignationId of) {
    return designation ? kind == TypeKind::designation && of == designation : kind != TypeKind::designation;
  };
  const auto keep = [&](const SymbolicSet& set, bool is_designation) {
    if (is_designation != static_cast<bool>(designation)) return;
    for (const std::uint32_t member : set.members) {
      if (!designation || model.designation_consts[DesignationConstId{member}].designation == designation) {
        out.push_back(member);
      }
    }
  };
  for (std::size_t i = 0; i < count; ++i) {
    for (const Block& block : parts[i].program->blocks) {
      for (const Op& op : block.ops) {
        if (op.code != OpCode::symbolic) continue;
        keep(model.sets[SymbolicSetId{op.payload}], op.result == TypeKind::designation);
      }
    }
    for (const Lookup& lookup : parts[i].program->lookups) {
      const TableDef& table = model.tables[lookup.table];
      for (std::size_t c = 0; c < table.columns.size(); ++c) {
        if (!table.columns[c].type.is_symbolic() ||
            !wanted(table.columns[c].type.kind, table.columns[c].type.designation)) {
          continue;
        }
        for (const auto& row : table.rows) {
          if (row[c].symbols) add_members(out, model.sets[row[c].symbols]);
        }
      }
    }
  }
  return out;
}

}  // namespace

void Variables::collect(Bench& bench, const Claim& claim, ReadLog& reads) {
  list_.clear();
  Claim::Part parts[3];
  const std::size_t count = claim.parts(parts);
  for (std::size_t i = 0; i < count; ++i) {
    bench.fast.start(*parts[i].program, *claim.binding, bench.world, bench.box);
    const Bits bits = bench.fast.truth(parts[i].block);
    bench.fast.trace_reads(parts[i].block, reads, nullptr);
    if (bits == surely_no) break;
  }
  for (const CellId cell : reads.cells()) {
    if (!bench.index.is_open(cell)) continue;
    const Cell& given = bench.index.build.cells[cell];
    Variable variable;
    variable.cell = cell;
    variable.number = bench.index.is_number(cell);
    variable.integer = (given.flags & cell_integer) != 0;
    variable.adjustable = (given.flags & cell_adjustable) != 0;
    list_.push_back(std::move(variable));
  }
  collect_members(bench, claim);
}

void Variables::collect_members(const Bench& bench, const Claim& claim) {
  std::uint32_t fresh = first_fresh_symbol;
  for (Variable& variable : list_) {
    if (variable.number) continue;
    const SymbolicSetId id = bench.index.build.cells[variable.cell].symbols();
    const Model& model = bench.index.model;
    if (id && !model.sets[id].all) {
      variable.members = model.sets[id].members;
      continue;
    }
    const AttributeDef* def = bench.index.attribute(variable.cell);
    const DesignationId designation =
        def != nullptr && def->type.kind == TypeKind::designation ? def->type.designation : DesignationId{};
    variable.members = named_symbols(model, claim, designation);
    for (const Variable& other : list_) {
      const SymbolicSetId set = bench.index.build.cells[other.cell].symbols();
      if (other.number || !set || model.sets[set].all) continue;
      const AttributeDef* theirs = bench.index.attribute(other.cell);
      const bool is_designation = theirs != nullptr && theirs->type.kind == TypeKind::designation;
      if (is_designation == static_cast<bool>(designation)) add_members(variable.members, model.sets[set]);
    }
    for (const CellId cell : bench.reads.cells()) {
      const AttributeDef* theirs = bench.index.attribute(cell);
      const SymbolicSetId set = bench.index.build.cells[cell].symbols();
      if (theirs == nullptr || !set || model.sets[set].all || !theirs->type.is_symbolic()) continue;
      if ((theirs->type.kind == TypeKind::designation) != static_cast<bool>(designation)) continue;
      if (designation && theirs->type.designation != designation) continue;
      add_members(variable.members, model.sets[set]);
    }
    if (designation) {
      variable.asked = variable.members;
      // any designation that is written somewhere is a possible value
      for (std::size_t i = 0; i < model.designation_consts.size() && variable.members.size() < most_members;
           ++i) {
        if (model.designation_consts[DesignationConstId{i}].designation != designation) continue;
        variable.members.push_back(static_cast<std::uint32_t>(i));
      }
      variable.complete = false;
    } else {
      variable.members.push_back(fresh++);
    }
    std::sort(variable.members.begin(), variable.members.end());
    variable.members.erase(std::unique(variable.members.begin(), variable.members.end()),
                           variable.members.end());
  }
  // several missing words may also be equal to each other in ways that no text names
  for (Variable& variable : list_) {
    if (variable.number || variable.members.empty() || !is_fresh(variable.members.back())) continue;
    variable.members.pop_back();
    for (std::uint32_t symbol = first_fresh_symbol; symbol < fresh; ++symbol)
      variable.members.push_back(symbol);
    if (variable.members.size() > most_members) variable.complete = false;
  }
}

bool Variables::has_adjustable() const {
  return std::any_of(list_.begin(), list_.end(), [](const Variable& v) { return v.adjustable; });
}

const SymbolicSet* Variables::single(std::uint32_t member) const {
  for (const SymbolicSet& set : singles_) {
    if (set.members[0] == member) return &set;
  }
  singles_.push_back({false, {member}});
  return &singles_.back();
}

void Variables::place(Bench& bench, std::size_t i, Spot spot) const {
  const Variable& variable = list_[i];
  if (variable.number) {
    const ExactInterval range = bench.box.exact(variable.cell);
    if (range.empty || range.is_point()) return;
    bench.box.narrow_exact(variable.cell, ExactInterval::point(value_at(range, variable.integer, spot)));
    return;
  }
  if (variable.members.empty()) return;
  const std::size_t last = variable.members.size() - 1;
  const std::size_t at = spot == Spot::low ? 0 : spot == Spot::high ? last : last / 2;
  bench.box.narrow_symbols(variable.cell, single(variable.members[at]));
}

void Variables::place_random(Bench& bench, std::size_t i, std::uint64_t& state) const {
  const Variable& variable = list_[i];
  if (variable.number) {
    const ExactInterval range = bench.box.exact(variable.cell);
    if (range.empty || range.is_point()) return;
    bench.box.narrow_exact(variable.cell, ExactInterval::point(random_value(range, variable.integer, state)));
    return;
  }
  if (variable.members.empty()) return;
  bench.box.narrow_symbols(variable.cell,
                           single(variable.members[next_random(state) % variable.members.size()]));
}

KeptRanges::KeptRanges(Bench& bench, const Variables& variables) : bench_(&bench) {
  for (std::size_t v = 0; v < variables.size(); ++v) {
    const CellId cell = variables[v].cell;
    const bool free = bench.box.is_free(cell);
    kept_.push_back({cell, free, variables[v].number,
                     free || !variables[v].number ? ExactInterval::none() : bench.box.exact(cell),
                     bench.box.symbols(cell)});
  }
}

void KeptRanges::restore() {
  for (const Kept& kept : kept_) {
    if (kept.free) {
      bench_->box.release(kept.cell);
    } else if (kept.number) {
      bench_->box.narrow_exact(kept.cell, kept.range);
    } else {
      bench_->box.narrow_symbols(kept.cell, kept.symbols);
    }
  }
}

Rational value_at(const ExactInterval& range, bool integer, Spot spot) {
  static const Rational far = Rational(1 << 20);
  Rational value;
  if (range.lo_infinite && range.hi_infinite) {
    value = spot == Spot::low ? -far : spot == Spot::high ? far : Rational(0);
  } else if (range.lo_infinite) {
    value = range.hi_value - (spot == Spot::low ? far : spot == Spot::high ? Rational(0) : Rational(1));
  } else if (range.hi_infinite) {
    value = range.lo_value + (spot == Spot::high ? far : spot == Spot::low ? Rational(0) : Rational(1));
  } else if (spot == Spot::middle) {
    value = (range.lo_value + range.hi_value) / 2;
  } else {
    value = spot == Spot::low ? range.lo_value : range.hi_value;
  }
  if (integer) value = floor(value);
  if (!range.lo_infinite && value < range.lo_value) value = range.lo_value;
  return value;
}

std::uint64_t next_random(std::uint64_t& state) {  // xorshift64*, Vigna 2016 (from memory)
  state ^= state >> 12;
  state ^= state << 25;
  state ^= state >> 27;
  return state * 0x2545f4914f6cdd1dULL >> 20;
}

Rational random_value(const ExactInterval& range, bool integer, std::uint64_t& state) {
  const std::uint64_t draw = next_random(state);
  const Rational fraction(static_cast<std::int64_t>(draw & 0xffffU), 0xffff);
  Rational value;
  if (!range.lo_infinite && !range.hi_infinite) {
    value = range.lo_value + (range.hi_value - range.lo_value) * fraction;
  } else {
    // any magnitude from 2^-20 to 2^20
    const auto power = static_cast<long>(static_cast<unsigned>(draw >> 16U) % 41U);
    const Rational size = times_power_of_two(fraction + 1, power - 20);
    if (!range.lo_infinite) {
      value = range.lo_value + size;
    } else if (!range.hi_infinite) {
      value = range.hi_value - size;
    } else {
      value = ((draw >> 40U) & 1U) != 0 ? size : -size;
    }
  }
  if (integer) value = floor(value);
  if (!range.lo_infinite && value < range.lo_value) value = range.lo_value;
  return value;
}

}  // namespace mm

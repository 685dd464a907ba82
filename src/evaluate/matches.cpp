#include "evaluate/matches.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <unordered_map>

namespace mm {

namespace {

constexpr std::uint64_t nowhere = ~std::uint64_t{0};
constexpr std::size_t most_versions = 64;  // tried before a match is kept unseen

/// Instances of one variable by the value of the attribute that ties it to an earlier one.
struct TieIndex {
  bool usable = false;
  std::uint32_t earlier_slot = 0, earlier_attribute = 0, attribute = 0;
  std::unordered_map<std::uint64_t, std::vector<EntityId>> by_key;
  std::vector<EntityId> open;  // value not certain, or not the same in every version
};

/// A value that is certain and the same in every version, as a key: equal values have equal keys.
std::optional<std::uint64_t> key_of(const Bench& bench, EntityId entity, std::uint32_t attribute) {
  const Instance& instance = bench.index.build.instances[bench.index.build.entities[entity].instance];
  if (instance.versions != 1) return std::nullopt;
  const CellId cell = bench.world.cell(entity, attribute);
  if (bench.index.is_number(cell)) {
    if (bench.index.point(cell) == nullptr) return std::nullopt;
    return std::bit_cast<std::uint64_t>(bench.index.number(cell).hi + 0.0);
  }
  const AttributeDef* def = bench.index.attribute(cell);
  const SymbolicSet* set = bench.box.symbols(cell);
  if (def == nullptr || def->type.kind == TypeKind::designation) return std::nullopt;
  if (def->type.kind == TypeKind::place && (set == nullptr || set->members.empty())) return nowhere;
  if (set == nullptr) return std::nullopt;
  if (set->all || set->members.size() != 1) return std::nullopt;
  return set->members[0];
}

std::vector<TieIndex> build_ties(const Bench& bench, const RuleDef& rule) {
  std::vector<TieIndex> ties(rule.variables.size());
  for (const RuleDef::Tie& tie : rule.ties) {
    const bool left_first = tie.left_slot < tie.right_slot;
    const std::uint32_t later = left_first ? tie.right_slot : tie.left_slot;
    if (tie.left_slot == tie.right_slot || ties[later].usable) continue;
    TieIndex& index = ties[later];
    index.usable = true;
    index.earlier_slot = left_first ? tie.left_slot : tie.right_slot;
    index.earlier_attribute = left_first ? tie.left_attribute : tie.right_attribute;
    index.attribute = left_first ? tie.right_attribute : tie.left_attribute;
    for (const EntityId entity : bench.index.instances_of(rule.variables[later].kind)) {
      if (const auto key = key_of(bench, entity, index.attribute)) {
        index.by_key[*key].push_back(entity);
      } else {
        index.open.push_back(entity);
      }
    }
  }
  return ties;
}

Bits where_bits(Bench& bench, const RuleDef& rule, const Binding& binding) {
  bench.fast.start(rule.where_program, binding, bench.world, bench.box);
  const Bits bits = bench.fast.truth(rule.where);
  return bench.fast.spent() ? anything : bits;
}

/// `where` is surely false here; could it hold with another candidate or after a rework? What it reads may be
/// another part's value in another state: each state is asked what it reads.
bool excluded_always(Bench& bench, const RuleDef& rule, const Binding& binding) {
  std::vector<std::uint32_t> instances;  // that have versions, and were read in some state
  std::size_t combinations = 1;
  const auto versions_of = [&](std::uint32_t instance) {
    return std::size_t{bench.index.build.instances[instance].versions};
  };
  const auto excluded_here = [&] {
    bench.reads.start();
    bench.fast.set_log(&bench.reads);
    const Bits bits = where_bits(bench, rule, binding);
    bench.fast.set_log(nullptr);
    for (const CellId cell : bench.reads.cells()) {
      const std::uint32_t instance = bench.index.build.entities[bench.index.owner(cell).entity].instance;
      if (versions_of(instance) < 2 ||
          std::find(instances.begin(), instances.end(), instance) != instances.end())
        continue;
      instances.push_back(instance);
      combinations *= versions_of(instance);
      if (combinations > most_versions) return false;
    }
    return bits == surely_no;
  };
  bool excluded = excluded_here();
  for (std::size_t turn = 0; excluded && combinations > 1 && turn < combinations; ++turn) {
    std::size_t rest = turn;
    for (const std::uint32_t instance : instances) {
      bench.world.set_version(instance, static_cast<std::uint32_t>(rest % versions_of(instance)));
      rest /= versions_of(instance);
    }
    const std::size_t known = instances.size();
    excluded = excluded_here();
    if (instances.size() != known) turn = SIZE_MAX;  // from the beginning, with these too
  }
  bench.world.reset();
  return excluded;
}

/// The parts that a variable may stand for, in build order; none where nothing is joined that way.
void reach(Bench& bench, const RuleDef::Variable& variable, const Binding& binding,
           std::vector<EntityId>& out) {
  bench.fast.start(variable.from_program, binding, bench.world, bench.box);
  const auto& from = bench.fast.run(variable.from);
  if ((from.state & defined) == 0 || !from.entity) return;
  std::int64_t& steps = bench.fast.limits.steps;
  const auto most = static_cast<std::size_t>(std::max<std::int64_t>(steps, 0));
  steps -= static_cast<std::int64_t>(
      find_reachable(bench.index, from.entity, variable.through, variable.kind, most, out));
  std::sort(out.begin(), out.end());
}

}  // namespace

Binding binding_of(const Model& model, const Build& build, std::uint32_t joint_index) {
  const Joint& joint = build.joints[joint_index];
  const InterfaceDef& interface = model.interfaces[joint.interface];
  Binding binding;
  binding.joint = joint_index;
  binding.locals.resize(interface.sides.size());
  binding.lists.resize(interface.sides.size());
  for (std::size_t side = 0; side < interface.sides.size() && side < joint.sides.size(); ++side) {
    if (interface.sides[side].many) {
      binding.lists[side] = joint.sides[side];
    } else if (!joint.sides[side].empty()) {
      binding.locals[side] = joint.sides[side][0];
    }
  }
  return binding;
}

bool find_matches(Bench& bench, const RuleDef& rule, std::size_t limit, std::vector<Binding>& out) {
  const std::size_t count = rule.variables.size();
  if (count == 0) {
    out.emplace_back();
    return true;
  }
  const std::vector<TieIndex> ties = build_ties(bench, rule);
  std::vector<std::vector<EntityId>> domains(count);  // per slot, for the present choice of the earlier ones
  std::vector<std::size_t> at(count, 0);
  Binding binding;
  binding.locals.resize(count);
  const auto open_slot = [&](std::size_t slot) {
    std::vector<EntityId>& domain = domains[slot];
    const TieIndex& tie = ties[slot];
    at[slot] = 0;
    domain.clear();
    if (rule.variables[slot].from != no_block) {
      reach(bench, rule.variables[slot], binding, domain);
      return;
    }
    if (tie.usable) {
      if (const auto key = key_of(bench, binding.locals[tie.earlier_slot], tie.earlier_attribute)) {
        if (const auto found = tie.by_key.find(*key); found != tie.by_key.end()) domain = found->second;
        const auto middle = static_cast<std::ptrdiff_t>(domain.size());
        domain.insert(domain.end(), tie.open.begin(), tie.open.end());
        std::inplace_merge(domain.begin(), domain.begin() + middle, domain.end());
        return;
      }
    }
    const auto all = bench.index.instances_of(rule.variables[slot].kind);
    domain.assign(all.begin(), all.end());
  };
  std::size_t looked_at = 0;
  std::size_t slot = 0;
  open_slot(0);
  for (;;) {
    if (at[slot] == domains[slot].size()) {
      if (slot == 0) return true;
      --slot;
      ++at[slot];
      continue;
    }
    const EntityId entity = domains[slot][at[slot]];
    const auto bound = binding.locals.begin() + static_cast<std::ptrdiff_t>(slot);
    const bool taken = std::find(binding.locals.begin(), bound, entity) != bound;
    if (++looked_at > limit) return false;
    if (taken) {
      ++at[slot];
      continue;
    }
    binding.locals[slot] = entity;
    if (slot + 1 < count) {
      open_slot(++slot);
      continue;
    }
    if (rule.where == no_block || where_bits(bench, rule, binding) != surely_no ||
        !excluded_always(bench, rule, binding)) {
      out.push_back(binding);
    }
    ++at[slot];
  }
}

}  // namespace mm

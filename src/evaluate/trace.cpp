#include "evaluate/trace.hpp"

#include "evaluate/counted_sheets.hpp"
#include "evaluate/tracer_state.hpp"

namespace mm {

namespace {

constexpr std::size_t most_nodes = 4'000;
constexpr std::size_t most_walked = 8 * most_nodes;
constexpr std::size_t most_items = 40;

Truth truth_from(Bits bits) {
  return bits == surely_yes ? Truth::yes : bits == surely_no ? Truth::no : Truth::maybe;
}

std::size_t size_of(const TraceNode& node) {
  std::size_t size = 1;
  std::vector<const TraceNode*> rest{&node};
  while (!rest.empty()) {
    const TraceNode* next = rest.back();
    rest.pop_back();
    size += next->children.size();
    for (const TraceNode& child : next->children) rest.push_back(&child);
  }
  return size;
}

}  // namespace

Claim Tracer::State::claim(const Finding& finding) const {
  const RequirementDef& requirement = model.requirements[finding.requirement];
  const bool of_rule =
      !requirement.interface && finding.binding->joint == no_reg && !finding.binding->locals.empty();
  return {&requirement, of_rule ? &model.rules[requirement.rule] : nullptr, finding.binding};
}

void Tracer::State::enter(const Finding& finding, std::size_t case_index) {
  enter_case(bench.index, bench.world, finding.cases[case_index]);
  bench.set_steps(4'000'000);
  budget = most_nodes;
}

/// Copies a finished child; a value that is used often (a `let`) is cut short once the tree is large.
void Tracer::State::adopt(TraceNode& parent, const TraceNode& child) {
  const std::size_t size = size_of(child);
  if (size <= budget) {
    budget -= size;
    parent.children.push_back(child);
    return;
  }
  parent.children.emplace_back();
  TraceStep& bare = parent.children.back();
  bare = static_cast<const TraceStep&>(child);
}

/// What the operation came to, without ends that are only the rounding of its operands.
Interval Tracer::State::number(const Op& op) {
  const Interval plain = bench.fast.at(op.target).number;
  double size = 0;
  for (const Reg reg : {op.a, op.b, op.c})
    if (reg != no_reg && bench.fast.at(reg).kind == ValueKind::number)
      size = std::max(size, magnitude(bench.fast.at(reg).number));
  if (!may_be_rounding(plain, size)) return plain;
  met_rounding = true;
  if (!runs_exactly || bench.sharp.spent()) return plain;
  return intersect(plain, to_interval(bench.sharp.number_of(bench.sharp.at(op.target))));
}

void Tracer::State::value(const Program& program, const Op& op, TraceNode& out) {
  const auto& machine = bench.fast;
  const auto& value = machine.at(op.target);
  out.code = op.code;
  out.kind = op.result;
  out.expr = op.origin;
  out.used_as = op.used_as;
  out.undefined = (value.state & may_undef) != 0;
  switch (value.kind) {
    case ValueKind::number:
      out.number = number(op);
      for (const auto& [reg, range] : corners)
        if (reg == op.target) out.number = intersect(out.number, to_interval(range));
      out.truth = truth_from(machine.truth_of(value));
      if (op.target < program.types.size()) {
        out.dimension = program.types[op.target].dimension;
        out.is_difference = program.types[op.target].is_difference();
      }
      break;
    case ValueKind::truth:
      out.truth = truth_from(value.state);
      break;
    case ValueKind::symbol:
    case ValueKind::designation:
      if (value.symbols != nullptr) out.symbols = *value.symbols;
      break;
    case ValueKind::entity:
      out.entity = value.entity;
      break;
  }
  if (op.code == OpCode::attribute) {
    const auto& owner = machine.at(op.a);
    if ((owner.state & defined) != 0 && owner.entity) {
      out.entity = owner.entity;
      out.attribute = op.payload;
      out.cell = bench.world.cell(owner.entity, op.payload);
      const Type& type = schema_of(model, bench.index.build, owner.entity).attributes[op.payload].type;
      if (type.is_number()) {
        out.dimension = type.dimension;
        out.is_difference = type.is_difference();
      }
    }
  }
  if (op.code == OpCode::lookup || op.code == OpCode::in_table) {
    const Lookup& lookup = program.lookups[op.payload];
    out.table = lookup.table.index;
    out.row = bench.fast.matched_row(op);
  }
}

void Tracer::State::node(const Program& program, const Op& op, std::vector<TraceNode>& nodes) {
  TraceNode& out = nodes[op.target];
  out = TraceNode{};
  ++walked;
  value(program, op, out);
  if (op.code == OpCode::lookup || op.code == OpCode::in_table) {
    for (const LookupCondition& condition : program.lookups[op.payload].conditions) {
      adopt(out, nodes[condition.value]);
    }
    return;
  }
  if (is_over_range(op.code)) return range_items(program, op, nodes);
  if (is_quantifier(op.code)) return items(program, op, nodes);
  if (op.code == OpCode::choose) {
    const Bits condition = bench.fast.truth_of(bench.fast.at(op.a));
    adopt(out, nodes[op.a]);
    if ((condition & may_yes) != 0) adopt(out, nodes[op.b]);
    if ((condition & may_no) != 0) adopt(out, nodes[op.c]);
    return;
  }
  for (const Reg reg : {op.a, op.b, op.c}) {
    if (reg != no_reg) adopt(out, nodes[reg]);
  }
}

/// Past the most that is walked, what the block came to alone: its reasons would not fit into the tree.
void Tracer::State::block(const Program& program, BlockIndex index, std::vector<TraceNode>& nodes) {
  bench.fast.run(index);
  if (runs_exactly) bench.sharp.run(index);
  const bool bare = walked > most_walked;
  for (const Op& op : program.blocks[index].ops) {
    if (bench.fast.spent()) return;
    if (!bare) {
      node(program, op, nodes);
    } else if (op.target == program.blocks[index].result) {
      nodes[op.target] = TraceNode{};
      value(program, op, nodes[op.target]);
    }
  }
}

void Tracer::State::items(const Program& program, const Op& op, std::vector<TraceNode>& nodes) {
  const Quantifier& q = program.quantifiers[op.payload];
  TraceNode out = std::move(nodes[op.target]);
  std::vector<EntityId> scratch;
  const auto domain = bench.fast.domain(q, scratch);
  std::size_t shown = 0, left = 0;
  CountedSheets sheets(q, bench.world);
  for (const EntityId entity : domain) {
    if (bench.fast.spent()) break;
    if (sheets.has(entity)) continue;
    bench.fast.bind(q.slot, entity);
    if (runs_exactly) bench.sharp.bind(q.slot, entity);
    Bits where = surely_yes;
    if (q.where != no_block) where = bench.fast.truth(q.where);
    if (where == surely_no) continue;
    if (where == surely_yes) sheets.add(entity);
    if (shown == most_items) {
      ++left;
      continue;
    }
    ++shown;
    TraceNode item;
    if (q.body != no_block) {
      block(program, q.body, nodes);
      item = nodes[program.blocks[q.body].result];
    } else if (q.where != no_block) {
      block(program, q.where, nodes);
      item = nodes[program.blocks[q.where].result];
    } else {
      item.code = OpCode::local;
      item.truth = Truth::yes;
    }
    item.entity = item.entity ? item.entity : entity;
    item.label = entity_name(model, bench.index.build, entity, names);
    if (where != surely_yes && q.body != no_block) item.label += " (perhaps)";
    adopt(out, item);
  }
  if (left > 0) {
    TraceNode more;
    more.label = "and " + std::to_string(left) + " more";
    out.children.push_back(std::move(more));
  }
  nodes[op.target] = std::move(out);
}

TraceNode Tracer::State::tree(const Claim::Part& part, const Binding& binding) {
  const auto made = [&](bool exactly) {
    runs_exactly = exactly;
    walked = 0;
    bench.fast.start(*part.program, binding, bench.world, bench.box);
    if (exactly) bench.sharp.start(*part.program, binding, bench.world, bench.box);
    std::vector<TraceNode> nodes(part.program->registers);
    block(*part.program, part.block, nodes);
    return std::move(nodes[part.program->blocks[part.block].result]);
  };
  const std::size_t before = budget;
  corners = corner_ranges(bench, part, binding);
  met_rounding = false;
  TraceNode quick = made(false);
  if (!met_rounding) return quick;
  budget = before;
  return made(true);
}

Tracer::Tracer(const Results& results, const Names& names)
    : state_(std::make_unique<State>(results.index, names)) {}
Tracer::~Tracer() = default;

TraceNode Tracer::trace(const Finding& finding, std::size_t case_index) {
  State& s = *state_;
  s.enter(finding, case_index);
  const Claim claim = s.claim(finding);
  Claim::Part parts[3];
  const std::size_t count = claim.parts(parts);
  std::vector<TraceNode> conditions;
  for (std::size_t i = 0; i + 1 < count; ++i) {
    TraceNode node = s.tree(parts[i], *claim.binding);
    if (node.truth == Truth::yes && !node.undefined) continue;
    node.label = parts[i].program == &claim.requirement->program ? "when" : "where";
    conditions.push_back(std::move(node));
  }
  TraceNode test = s.tree(parts[count - 1], *claim.binding);
  if (conditions.empty()) return test;
  TraceNode root;
  root.code = OpCode::logical_or;
  root.kind = TypeKind::boolean;
  root.truth = Truth::maybe;
  root.children = std::move(conditions);
  root.children.push_back(std::move(test));
  return root;
}

}  // namespace mm

#include "evaluate/column_plan.hpp"

#include <algorithm>

namespace mm {

namespace {

using Way = ColumnSource::Way;

/// A place is told by no column.
bool is_symbolic_kind(TypeKind kind) {
  return kind == TypeKind::choice || kind == TypeKind::text || kind == TypeKind::designation;
}

class Planner {
 public:
  Planner(const Model& model, const Program& program)
      : model_(model),
        program_(program),
        entities_(program.registers),
        column_of_(program.registers, no_reg) {}

  std::optional<ColumnPlan> plan(BlockIndex block) {
    for (const Op& op : program_.blocks[block].ops) {
      if (!take(op)) return std::nullopt;
    }
    const Reg result = program_.blocks[block].result;
    if (plan_.ops.empty() || column_of_[result] != plan_.ops.back().target) return std::nullopt;
    const OpCode last = plan_.ops.back().code;
    if (last < OpCode::lt || last > OpCode::logical_not) return std::nullopt;
    find_repeats();
    return std::move(plan_);
  }

 private:
  /// An entity that a register holds, as a path from a slot.
  struct Entity {
    bool known = false;
    std::uint32_t slot = 0;
    Way way = Way::own;
    std::uint32_t face = no_reg;
  };

  std::uint32_t add(OpCode code, std::uint32_t a, std::uint32_t b, std::uint32_t payload) {
    plan_.ops.push_back({code, plan_.columns, a, b, payload});
    return plan_.columns++;
  }

  std::uint32_t load(const ColumnSource& source) {
    plan_.sources.push_back(source);
    return add(OpCode::attribute, no_reg, no_reg, static_cast<std::uint32_t>(plan_.sources.size() - 1));
  }

  bool take(const Op& op) {
    switch (op.code) {
      case OpCode::local:
        entities_[op.target] = {true, op.payload, Way::own, no_reg};
        return true;
      case OpCode::part_of:
      case OpCode::face_of: {
        const Entity from = entities_[op.a];
        if (!from.known || from.way != Way::own) return false;
        entities_[op.target] = from;
        entities_[op.target].way = op.code == OpCode::part_of ? Way::part : Way::face;
        if (op.code == OpCode::face_of) entities_[op.target].face = op.payload;
        return true;
      }
      case OpCode::attribute: {
        const Entity of = entities_[op.a];
        if (!of.known || !(is_number_kind(op.result) || is_symbolic_kind(op.result))) return false;
        column_of_[op.target] = load({of.slot, of.way, of.face, op.payload, no_reg, op.result});
        return true;
      }
      case OpCode::field: {
        // the designation's own column is replaced by the one of its field
        if (column_of_[op.a] == no_reg || plan_.ops.empty() || plan_.ops.back().target != column_of_[op.a] ||
            plan_.ops.back().code != OpCode::attribute || !is_number_kind(op.result))
          return false;
        ColumnSource& source = plan_.sources.back();
        if (source.kind != TypeKind::designation || source.field != no_reg) return false;
        source.field = op.payload;
        column_of_[op.target] = column_of_[op.a];
        column_of_[op.a] = no_reg;
        return true;
      }
      case OpCode::number:
        column_of_[op.target] = add(op.code, no_reg, no_reg, op.payload);
        return true;
      case OpCode::symbolic: {
        const SymbolicSet& set = model_.sets[SymbolicSetId{op.payload}];
        if (set.all || set.members.size() != 1) return false;
        column_of_[op.target] = add(op.code, no_reg, no_reg, set.members[0]);
        return true;
      }
      case OpCode::sum_entities:
      case OpCode::min_entities:
      case OpCode::max_entities:
        return take_items(op);
      case OpCode::add:
      case OpCode::sub:
      case OpCode::mul:
      case OpCode::div:
      case OpCode::neg:
      case OpCode::abs:
      case OpCode::min:
      case OpCode::max:
      case OpCode::sqrt:
      case OpCode::lt:
      case OpCode::le:
      case OpCode::eq:
      case OpCode::same:
        return take_plain(op);
      case OpCode::logical_and:
      case OpCode::logical_or:
      case OpCode::logical_not:
        plan_.single = false;
        return take_plain(op);
      default:
        return false;
    }
  }

  bool take_plain(const Op& op) {
    if (op.payload != 0) return false;  // guarded
    if (op.code == OpCode::sqrt) plan_.rational = false;
    const std::uint32_t a = column_of_[op.a], b = op.b == no_reg ? no_reg : column_of_[op.b];
    if (a == no_reg || (op.b != no_reg && b == no_reg)) return false;
    if (op.code == OpCode::logical_and || op.code == OpCode::logical_or || op.code == OpCode::logical_not) {
      if (!is_truth(a) || (b != no_reg && !is_truth(b))) return false;  // a yes/no attribute
    }
    column_of_[op.target] = add(op.code, a, b, 0);
    return true;
  }

  bool is_truth(std::uint32_t column) const {
    const OpCode code = plan_.ops[column].code;  // each operation makes the column of its own index
    return code >= OpCode::lt && code <= OpCode::logical_not;
  }

  /// The sum, least or greatest of one attribute over a many side.
  bool take_items(const Op& op) {
    const Quantifier& q = program_.quantifiers[op.payload];
    if (q.many_slot == no_reg || q.where != no_block || q.body == no_block || q.once_a_sheet) return false;
    const Block& body = program_.blocks[q.body];
    if (body.ops.size() != 2 || body.ops[0].code != OpCode::local || body.ops[0].payload != q.slot ||
        body.ops[1].code != OpCode::attribute || body.ops[1].a != body.ops[0].target ||
        body.result != body.ops[1].target || !is_number_kind(body.ops[1].result))
      return false;
    const std::uint32_t items =
        load({q.many_slot, Way::items, no_reg, body.ops[1].payload, no_reg, body.ops[1].result});
    column_of_[op.target] = add(op.code, items, no_reg, 0);
    return true;
  }

  void find_repeats() {
    std::vector<std::uint32_t> reads(plan_.columns, 0);
    for (const ColumnOp& op : plan_.ops) {
      for (const std::uint32_t column : {op.a, op.b}) {
        if (column != no_reg && plan_.ops[column].code != OpCode::number && ++reads[column] > 1)
          plan_.each_once = false;
      }
    }
    std::size_t parts = 0;
    for (std::size_t i = 0; i < plan_.sources.size(); ++i) {
      if (plan_.sources[i].way == Way::part) ++parts;
      for (std::size_t j = 0; j < i; ++j) {
        ColumnSource one = plan_.sources[i], other = plan_.sources[j];
        one.field = other.field = no_reg;
        if (one == other) plan_.each_once = false;
      }
    }
    if (parts > 1) plan_.each_once = false;  // two faces may be of one part
  }

  const Model& model_;
  const Program& program_;
  std::vector<Entity> entities_;
  std::vector<std::uint32_t> column_of_;
  ColumnPlan plan_;
};

}  // namespace

bool ColumnSource::is_number() const { return field != no_reg || is_number_kind(kind); }

std::optional<ColumnPlan> ColumnPlan::of(const Model& model, const Program& program, BlockIndex block) {
  if (block == no_block) return std::nullopt;
  return Planner(model, program).plan(block);
}

}  // namespace mm

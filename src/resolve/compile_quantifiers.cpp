// some, every, count, sum, min, max: over parts, over a many side, over a continuous range.
#include <fmt/format.h>

#include <unordered_set>

#include "resolve/compiler.hpp"

namespace mm {

namespace {

OpCode aggregate_code(AggregateKind kind) {
  switch (kind) {
    case AggregateKind::count:
      return OpCode::count_entities;
    case AggregateKind::sum:
      return OpCode::sum_entities;
    case AggregateKind::min:
      return OpCode::min_entities;
    case AggregateKind::max:
      return OpCode::max_entities;
  }
  return OpCode::count_entities;
}

}  // namespace

Compiler::Domain Compiler::domain_of(const Binder& binder) {
  Domain domain;
  Quantifier& quantifier = domain.quantifier;
  if (!binder.variable) {
    // The many side itself is the variable.
    const auto entry = binder.domain ? lookup(binder.domain->symbol) : std::nullopt;
    if (!entry || entry->sort != ScopeEntry::Sort::many || (entry->iterating && !entry->anew)) {
      if (entry && entry->sort == ScopeEntry::Sort::many) {
        context_.messages.add(
            Code::unknown_name, binder.domain->span, {"other many side", context_.text(*binder.domain)},
            fmt::format(
                "\"{0}\" is already the one being looked at; what goes over all of them is worked out "
                "in a let, as let most = max of {0}.length",
                context_.text(*binder.domain)));
      } else if (binder.domain) {
        std::vector<std::string_view> known;
        for (const auto& other : frame().bindings)
          if (other.sort == ScopeEntry::Sort::many) known.push_back(context_.names.text(other.name));
        context_.unknown("many side", *binder.domain, known);
      }
      return domain;
    }
    domain.binding = *entry;
    domain.binding.iterating = true;
    domain.binding.anew = false;
    quantifier.many_slot = entry->side;
    if (entry->anew) {  // the item of the quantifier around the let keeps its slot
      domain.binding.slot = program_.slots;
      set_slots(program_.slots + 1);
    }
    quantifier.slot = domain.binding.slot;
    domain.good = true;
    return domain;
  }
  if (lookup(binder.variable->symbol)) {
    context_.messages.add(Code::duplicate_name, binder.variable->span,
                          {"variable", context_.text(*binder.variable)}, "choose another name");
    return domain;
  }
  quantifier.slot = program_.slots;
  set_slots(program_.slots + 1);
  domain.binding.name = binder.variable->symbol;
  domain.binding.slot = quantifier.slot;
  if (binder.range_lo) {
    const auto [lo, hi] = range_ends(binder.range_lo, binder.range_hi);
    if (lo.is_error() || hi.is_error() || !same_dimension(lo, hi, "compare", binder.range_hi)) return domain;
    quantifier.lo = lo.reg;
    quantifier.hi = hi.reg;
    quantifier.name = domain.binding.name;
    for (const ExprId end : {binder.range_hi, binder.range_lo}) {
      const auto* literal = std::get_if<QuantityExpr>(&context_.tree.exprs[end].form);
      if (literal != nullptr && literal->quantity.has_unit())
        quantifier.unit = read_unit(context_, context_.tree.unit_of(literal->quantity));
    }
    domain.binding.sort = ScopeEntry::Sort::number;
    domain.binding.type =
        quantity_type(lo.type.kind == TypeKind::quantity ? lo.type.dimension : hi.type.dimension);
    domain.continuous = domain.good = true;
    return domain;
  }
  domain.binding.sort = ScopeEntry::Sort::entity;
  domain.binding.type = simple_type(TypeKind::part);
  if (context_.names.text(binder.domain->symbol) != "part") {
    auto found = context_.kinds.find(binder.domain->symbol);
    if (found == context_.kinds.end()) {
      context_.unknown_in("kind", *binder.domain, context_.kinds);
      return domain;
    }
    quantifier.kind = domain.binding.type.part_kind = found->second;
  }
  if (binder.reach_from) {
    quantifier.reach_from = reach_of(binder, quantifier.reach_through);
    if (quantifier.reach_from == no_reg) return domain;
  }
  domain.good = true;
  return domain;
}

/// Where `reachable from` starts, or no_reg after a message.
Reg Compiler::reach_of(const Binder& binder, std::vector<InterfaceId>& through) {
  const Operand from = compile(binder.reach_from);
  if (from.is_error()) return no_reg;
  if (!from.type.is_entity()) {
    context_.messages.add(Code::not_an_entity, span(binder.reach_from), {"a part or a face", what(from)});
    return no_reg;
  }
  for (const auto& name : binder.reach_through) {
    auto found = context_.interfaces.find(name.symbol);
    if (found == context_.interfaces.end())
      context_.unknown_in("interface", name, context_.interfaces);
    else
      through.push_back(found->second);
  }
  return through.size() == binder.reach_through.size() ? from.reg : no_reg;
}

BlockIndex Compiler::reach_block(const Binder& binder, std::vector<InterfaceId>& through) {
  open_block();
  const Reg from = reach_of(binder, through);
  const BlockIndex block = close_block(from);
  return from == no_reg ? no_block : block;
}

BlockIndex Compiler::inner_block(ExprId expr, const ScopeEntry& binding, bool truth, Operand* result,
                                 ExprId guard) {
  frame().bindings.push_back(binding);
  open_block();
  const GuardSteps of_guard = assume_guards({guard}, expr);
  *result = truth ? want_truth(expr) : want_number(expr);
  const BlockIndex block = close_guarded(of_guard, result->reg);
  frame().bindings.pop_back();
  return block;
}

Operand Compiler::visit(const QuantifierExpr& e, ExprId id) {
  Domain domain = domain_of(context_.tree.binders[e.binder]);
  if (!domain.good) return error(id);
  const Made before = made();
  Operand where, body;
  if (e.where) domain.quantifier.where = inner_block(e.where, domain.binding, true, &where);
  if (e.body) domain.quantifier.body = inner_block(e.body, domain.binding, true, &body, e.where);
  if ((e.where && where.is_error()) || (e.body && body.is_error())) return error(id);
  const bool every = e.kind == QuantifierKind::every;
  const OpCode code = domain.continuous ? (every ? OpCode::every_number : OpCode::some_number)
                                        : (every ? OpCode::every_entity : OpCode::some_entity);
  return emit_quantifier(code, simple_type(TypeKind::boolean), std::move(domain.quantifier), before);
}

std::optional<Name> Compiler::many_side_in(ExprId id) const {
  std::optional<Name> found;
  some_expr(context_.tree, id, [&](ExprId at) {
    const auto* name = std::get_if<NameExpr>(&context_.tree.exprs[at].form);
    if (name == nullptr) return false;
    const auto entry = lookup(name->name.symbol);
    if (entry && entry->sort == ScopeEntry::Sort::many && (!entry->iterating || entry->anew))
      found = name->name;
    return found.has_value();
  });
  return found;
}

/// Whether what the quantifier's body asks of each item hangs on how many there are of that very part.
bool Compiler::reads_own_quantity(const Quantifier& q) const {
  const auto some_step = [&](const auto& is_it) {
    std::vector<BlockIndex> rest{q.body};
    while (!rest.empty()) {
      const Block& block = program_.blocks[rest.back()];
      rest.pop_back();
      for (const Op& op : block.ops) {
        if (is_it(op)) return true;
        if (!is_quantifier(op.code)) continue;
        for (const BlockIndex inner :
             {program_.quantifiers[op.payload].where, program_.quantifiers[op.payload].body})
          if (inner != no_block) rest.push_back(inner);
      }
    }
    return false;
  };
  const auto reads_a_quantity = [](const Op& op) {
    return op.code == OpCode::attribute && op.payload == static_cast<std::uint32_t>(PartProperty::quantity);
  };
  if (!some_step(reads_a_quantity)) return false;
  std::unordered_set<Reg> own_parts, own_faces;
  return some_step([&](const Op& op) {
    const bool of_own = own_parts.contains(op.a) || own_faces.contains(op.a);
    if ((op.code == OpCode::local && op.payload == q.slot) ||
        ((op.code == OpCode::part_of || op.code == OpCode::face_of) && of_own))
      (op.result == TypeKind::part ? own_parts : own_faces).insert(op.target);
    return reads_a_quantity(op) && own_parts.contains(op.a);
  });
}

Operand Compiler::visit(const AggregateExpr& e, ExprId id) {
  Binder binder;
  if (e.binder) {
    binder = context_.tree.binders[e.binder];
  } else {
    const auto side = many_side_in(e.term);
    if (!side) {
      context_.messages.add(Code::word_unknown, span(e.term),
                            {std::string(context_.sources.text(span(e.term)))},
                            "say what to go over: \"sum of b.length for b: bolt\", or name a many side");
      return error(id);
    }
    binder.domain = side;
    binder.span = side->span;
  }
  Domain domain = domain_of(binder);
  if (!domain.good) return error(id);
  if (domain.continuous) {
    context_.messages.add(Code::type_not_here, binder.span, {"a continuous range"},
                          "count, sum, min and max go over parts or faces");
    return error(id);
  }
  const Made before = made();
  Operand where, term;
  if (e.where) domain.quantifier.where = inner_block(e.where, domain.binding, true, &where);
  if (e.term) domain.quantifier.body = inner_block(e.term, domain.binding, false, &term, e.where);
  if ((e.where && where.is_error()) || (e.term && term.is_error())) return error(id);
  domain.quantifier.once_a_sheet = e.kind == AggregateKind::sum && reads_own_quantity(domain.quantifier);
  Type type = e.kind == AggregateKind::count ? simple_type(TypeKind::count, true) : term.type;
  if (e.kind == AggregateKind::sum && type.readings != 0) type.readings = unknown_readings;
  return emit_quantifier(aggregate_code(e.kind), type, std::move(domain.quantifier), before);
}

}  // namespace mm

// Interfaces and rules: their expressions become programs. What no build uses is compiled all the same, so
// that its errors are found.
#include <algorithm>
#include <unordered_set>

#include "model/conjuncts.hpp"
#include "resolve/compiler.hpp"
#include "resolve/declarations.hpp"
#include "resolve/quantities.hpp"
#include "units/usual_units.hpp"

namespace mm {

namespace {

Type face_type(InterfaceId interface, std::uint32_t side, bool many) {
  Type type = simple_type(many ? TypeKind::many_side : TypeKind::face);
  type.interface = interface;
  type.side = side;
  return type;
}

Template read_template(Compiler& compiler, const std::vector<TemplatePiece>& pieces,
                       std::initializer_list<ExprId> guards) {
  Template text;
  for (const auto& piece : pieces) {
    TextPiece made;
    made.text = in_one_line(piece.literal);
    made.expr = piece.expr;
    if (piece.expr) made.block = compiler.any_block(piece.expr, &made.type, guards);
    text.push_back(std::move(made));
  }
  return text;
}

/// Of the comparisons that must all hold: their dimension, if they have one, and the unit in which the rule
/// itself states its limit; where nobody uses one for the dimension, that of a table's column.
void find_margin(Context& context, RequirementDef& def) {
  for (const Op* op : conjuncts_of(def.program.blocks[def.test], def.program.registers)) {
    if (op->code != OpCode::le && op->code != OpCode::lt) continue;
    const Measure its = measure_of(def.program, *op);
    if (!def.has_margin) def.measure = its;
    def.has_margin = its.is_same(def.measure);
    if (!def.has_margin) break;
  }
  UnitId unit;
  some_expr(context.tree, def.test_expr, [&](ExprId expr) {  // the last one that is gone by
    const auto* literal = std::get_if<QuantityExpr>(&context.tree.exprs[expr].form);
    if (literal == nullptr || !literal->quantity.has_unit()) return false;
    const UnitId id = literal->quantity.unit;
    const Unit* read = id.index < context.units_read.size() ? context.units_read[id.index] : nullptr;
    if (read != nullptr && compatible(read->dimension, def.measure.dimension) && read->offset == 0) unit = id;
    return false;
  });
  if (unit) {
    def.margin_unit = *context.units_read[unit.index];
    def.margin_unit->text = std::string(context.tree.text(unit));
  } else if (!has_usual_unit(def.measure.dimension, context.names)) {
    for (const Lookup& lookup : def.program.lookups) {
      const AttributeDef& column = context.model.tables[lookup.table].columns[lookup.column];
      if (column.shown_in != nullptr && compatible(column.shown_in->dimension, def.measure.dimension))
        def.margin_unit = *column.shown_in;
    }
  }
}

/// `a.x = b.y` that must hold: equal symbols or counts of two variables.
void find_ties(RuleDef& rule) {
  const Block& block = rule.where_program.blocks[rule.where];
  const std::vector<const Op*> makers = makers_of(block, rule.where_program.registers);
  const auto is = [](const Op* op, OpCode code) { return op != nullptr && op->code == code; };
  for (const Op* op : conjuncts_of(block, rule.where_program.registers)) {
    if (op->code != OpCode::same && op->code != OpCode::eq) continue;
    const Op *left = makers[op->a], *right = makers[op->b];
    if (!is(left, OpCode::attribute) || !is(right, OpCode::attribute)) continue;
    const Op *owner = makers[left->a], *other = makers[right->a];
    if (!is(owner, OpCode::local) || !is(other, OpCode::local) || owner->payload == other->payload) continue;
    rule.ties.push_back({owner->payload, left->payload, other->payload, right->payload});
  }
}

/// The parser takes no other word.
Gate read_gate(const Context& context, const Name& name) {
  const std::string word = context.text(name);
  if (word == "order") return Gate::order;
  return word == "assemble" ? Gate::assemble : Gate::drive;
}

/// `bind` puts the owner's sides or variables and lets into a fresh compiler; `where`: of the rule.
template <class Bind>
RequirementId compile_requirement(Context& context, const RequirementDecl& decl, RequirementDef def,
                                  const Bind& bind, ExprId where = {}) {
  def.name = decl.name.symbol;
  def.weight = decl.weight;
  def.span = decl.name.span;
  def.test_expr = decl.test;
  def.when_expr = decl.when;
  if (decl.source) def.source = decl.source->text;
  if (decl.settles_at) def.settles_at = read_gate(context, *decl.settles_at);
  if (decl.hazard) def.hazard = decl.hazard->symbol;
  Compiler compiler(context, def.program);
  bind(compiler);
  def.test = compiler.truth_block(decl.test, {where, decl.when});
  if (decl.when) def.when = compiler.truth_block(decl.when, {where});
  def.because = read_template(compiler, decl.because_pieces, {where, decl.when});
  def.remedy = read_template(compiler, decl.remedy_pieces, {where, decl.when});
  find_margin(context, def);
  return context.model.requirements.add(std::move(def));
}

/// Requirements of one owner differ in name, and so do its lets and what they would hide.
void check_names(Context& context, const std::vector<RequirementDecl>& requirements,
                 const std::vector<LetDecl>& lets, const std::vector<Name>& taken) {
  FirstNames requirement_names, value_names;
  for (const auto& decl : requirements) requirement_names.declare(context, "requirement", decl.name);
  for (const Name& name : taken) value_names.take(name);
  for (const auto& let : lets) value_names.declare(context, "value", let.name);
}

/// Those that no program of their owner's used.
template <class Bind>
void check_lets(Context& context, const Lets& lets, const Bind& bind) {
  for (std::size_t i = 0; i < lets.size(); ++i) {
    if (lets.is_sound(i)) continue;
    Program scratch;
    Compiler compiler(context, scratch);
    bind(compiler);
    Type type;
    compiler.any_block(lets[i].value, &type);
  }
}

}  // namespace

void compile_interfaces(Context& context) {
  for (std::size_t i = 0; i < context.interface_decls.size(); ++i) {
    const InterfaceId id{i};
    const InterfaceDecl& decl = *context.interface_decls[i];
    const std::vector<SideDef>& sides = context.model.interfaces[id].sides;
    std::vector<Name> taken;
    for (const auto& side : sides) taken.push_back({side.name, side.span});
    check_names(context, decl.requirements, decl.lets, taken);
    const Lets lets(decl.lets);
    const auto bind = [&](Compiler& compiler) {
      for (std::uint32_t s = 0; s < sides.size() && context.steps_left > 0; ++s) {
        const Type type = face_type(id, s, sides[s].many);
        if (sides[s].many)
          compiler.bind_many(sides[s].name, type, s);
        else
          compiler.bind_entity(sides[s].name, type, s);
      }
      compiler.bind_lets(lets, lets.size());
    };
    for (const auto& requirement : decl.requirements) {
      context.requirement_names.insert(requirement.name.symbol);
      RequirementDef def;
      def.owner = decl.name.symbol;
      def.interface = id;
      const RequirementId made = compile_requirement(context, requirement, std::move(def), bind);
      context.model.interfaces[id].requirements.push_back(made);
    }
    check_lets(context, lets, bind);
  }
}

namespace {

void bind_variables(const Context& context, Compiler& compiler,
                    const std::vector<RuleDef::Variable>& variables) {
  for (std::uint32_t v = 0; v < variables.size() && context.steps_left > 0; ++v) {
    Type type = simple_type(TypeKind::part);
    type.part_kind = variables[v].kind;
    compiler.bind_entity(variables[v].name, type, v);
  }
}

}  // namespace

void compile_rules(Context& context, std::size_t first, std::size_t last) {
  for (std::size_t i = first; i < last; ++i) {
    const RuleDecl* decl = context.rule_decls[i];
    RuleDef rule;
    rule.name = decl->name.symbol;
    rule.span = decl->name.span;
    rule.where_expr = decl->where;
    if (decl->doc) rule.doc = in_one_line(decl->doc->text);
    bool good = true;
    std::vector<Name> taken;
    FirstNames variables;
    for (const auto& binder : decl->binders) {
      RuleDef::Variable variable;
      if (!binder.variable || !binder.domain) continue;
      variable.name = binder.variable->symbol;
      variables.declare(context, "variable", *binder.variable);
      taken.push_back(*binder.variable);
      if (context.names.text(binder.domain->symbol) != "part") {
        auto found = context.kinds.find(binder.domain->symbol);
        if (found == context.kinds.end()) {
          context.unknown_in("kind", *binder.domain, context.kinds);
          good = false;
        } else {
          variable.kind = found->second;
        }
      }
      if (binder.reach_from) {
        Compiler compiler(context, variable.from_program);
        bind_variables(context, compiler, rule.variables);
        variable.from = compiler.reach_block(binder, variable.through);
        good = good && variable.from != no_block;
      }
      rule.variables.push_back(std::move(variable));
    }
    // what a rule in error asks has a name all the same
    for (const auto& requirement : decl->requirements)
      context.requirement_names.insert(requirement.name.symbol);
    if (!good) continue;
    check_names(context, decl->requirements, decl->lets, taken);
    const Lets lets(decl->lets);
    const auto bind = [&](Compiler& compiler) {
      bind_variables(context, compiler, rule.variables);
      compiler.bind_lets(lets, lets.size());
    };
    if (decl->where) {
      Compiler compiler(context, rule.where_program);
      bind(compiler);
      rule.where = compiler.truth_block(decl->where);
      find_ties(rule);
    }
    const auto index = static_cast<std::uint32_t>(context.model.rules.size());
    for (const auto& requirement : decl->requirements) {
      RequirementDef def;
      def.owner = decl->name.symbol;
      def.rule = index;
      rule.requirements.push_back(
          compile_requirement(context, requirement, std::move(def), bind, decl->where));
    }
    check_lets(context, lets, bind);
    context.model.rules.push_back(std::move(rule));
  }
}

RequirementId compile_expectation(Context& context, ExprId expr) {
  RequirementDef def;
  def.name = context.names.intern("that");
  def.owner = context.names.intern("trial");
  def.rule = no_reg;
  def.test_expr = expr;
  def.span = context.tree.exprs[expr].span;
  Compiler compiler(context, def.program);
  def.test = compiler.truth_block(expr);
  find_margin(context, def);
  return context.model.requirements.add(std::move(def));
}

}  // namespace mm

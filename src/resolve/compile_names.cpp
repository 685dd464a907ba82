// Names and mates: what a word stands for.
#include <fmt/format.h>

#include "resolve/compiler.hpp"
#include "resolve/types.hpp"

namespace mm {

std::optional<ScopeEntry> Compiler::lookup(Symbol name) const {
  const Frame& here = frames_.back();
  for (auto it = here.bindings.rbegin(); it != here.bindings.rend(); ++it)
    if (it->name == name) return *it;
  if (here.lets == nullptr) return std::nullopt;
  const std::size_t let = here.lets->find(name, here.lets_seen);
  if (let == here.lets_seen) return std::nullopt;
  return ScopeEntry{name, ScopeEntry::Sort::let, {}, 0, false, {}, (*here.lets)[let].value, let};
}

Operand Compiler::use(const ScopeEntry& entry, ExprId id) {
  switch (entry.sort) {
    case ScopeEntry::Sort::entity:
      return emit(OpCode::local, entry.type, no_reg, no_reg, no_reg, entry.slot);
    case ScopeEntry::Sort::number:
      return emit(OpCode::local_number, entry.type, no_reg, no_reg, no_reg, entry.slot);
    case ScopeEntry::Sort::reg:
      return entry.operand;
    case ScopeEntry::Sort::many:
      if (entry.iterating) {
        Type type = entry.type;
        type.kind = TypeKind::face;
        return emit(OpCode::local, type, no_reg, no_reg, no_reg, entry.slot);
      }
      context_.messages.add(Code::many_side_alone, span(id), {context_.text(entry.name)},
                            fmt::format("use sum of, min of, max of, count of, or \"every {} has ...\"",
                                        context_.text(entry.name)));
      return error(id);
    case ScopeEntry::Sort::let: {
      // A let sees what stood before it, whatever has been bound since.
      Frame inner;
      inner.self = frame().self;
      inner.lets = frame().lets;
      inner.lets_seen = entry.let;
      inner.before_lets = frame().before_lets;
      inner.bindings.assign(frame().bindings.begin(),
                            frame().bindings.begin() + static_cast<std::ptrdiff_t>(inner.before_lets));
      const ExprId value = entry.let_value;
      bool as_it_stands = true;
      // Items of quantifiers that are open here stay visible through many sides only.
      for (auto& binding : inner.bindings)
        for (const auto& outer : frame().bindings)
          if (outer.sort == ScopeEntry::Sort::many && outer.name == binding.name) {
            binding.iterating = binding.anew = outer.iterating;
            binding.slot = outer.slot;
            as_it_stands = as_it_stands && !outer.iterating;
          }
      frames_.push_back(std::move(inner));
      Operand operand = compile(value);
      const std::string hint = hint_for_word(operand.bare_word);
      frames_.pop_back();
      if (operand.bare_word) {  // said at its own place, and once
        context_.messages.add(Code::word_unknown, span(value), {context_.text(operand.bare_word)}, hint);
        return error(id);
      }
      if (as_it_stands && operand.reg != no_reg) frame().lets->set_sound(entry.let);
      return operand;
    }
  }
  return error(id);
}

std::optional<Operand> Compiler::self_name(const Name& name, ExprId id) {
  if (!frame().self) return std::nullopt;
  const Operand self = *frame().self;
  if (self.type.kind == TypeKind::designation) {
    if (!has_field(self, name)) return error(id);
    for (const auto& field : context_.model.designations[self.type.designation].fields)
      if (field.name == name.symbol) return field_of(self, name, id);
    return std::nullopt;
  }
  const KindDef& kind = context_.model.kinds[self.type.part_kind];
  if (kind.schema.index.contains(name.symbol)) return field_of(self, name, id);
  for (const auto& face : kind.faces)
    if (face.name == name.symbol) return field_of(self, name, id);
  return std::nullopt;
}

Operand Compiler::visit(const NameExpr& e, ExprId id) {
  if (const auto entry = lookup(e.name.symbol)) return use(*entry, id);
  if (auto self = self_name(e.name, id)) return *self;
  if (context_.names.text(e.name.symbol) == "pi")
    return emit(OpCode::number, quantity_type({}, true), no_reg, no_reg, no_reg, context_.pi().index);
  Operand word = error(id);
  word.bare_word = e.name.symbol;
  return word;
}

std::string Compiler::hint_for_word(Symbol word) const {
  const Lets* lets = frames_.back().lets;
  if (!word || lets == nullptr || lets->find(word, lets->size()) == lets->size()) return {};
  if (lets->find(word, lets->size()) == frames_.back().lets_seen)
    return "a derived value may use only those above it, not itself";
  return fmt::format("\"{}\" stands below: a derived value may use only those above it", context_.text(word));
}

bool Compiler::hides_a_let(ExprId id) const {
  const auto* name = std::get_if<NameExpr>(&context_.tree.exprs[id].form);
  const Lets* lets = frames_.back().lets;
  if (name == nullptr || lets == nullptr) return false;
  const auto entry = lookup(name->name.symbol);
  return entry && entry->sort != ScopeEntry::Sort::let &&
         lets->find(name->name.symbol, lets->size()) < lets->size();
}

Operand Compiler::visit(const MateExpr& e, ExprId id) {
  const Operand face = compile(e.face);
  if (face.is_error()) return error(id);
  if (face.type.kind != TypeKind::face) {
    const auto* field = std::get_if<FieldExpr>(&context_.tree.exprs[e.face].form);
    std::string hint;
    if (field != nullptr)
      hint = fmt::format("put what stands before the field in brackets: (mate of {}).{}",
                         context_.sources.text(span(field->object)), context_.text(field->field));
    context_.messages.add(Code::not_an_entity, span(e.face), {"a face", what(face)}, hint);
    return error(id);
  }
  const InterfaceDef& interface = context_.model.interfaces[face.type.interface];
  if (interface.sides.size() != 2 || interface.sides[0].many || interface.sides[1].many) {
    context_.messages.add(Code::mate_of_many, span(id),
                          {context_.text(interface.name), std::to_string(interface.sides.size())});
    return error(id);
  }
  Type type = face.type;
  type.side = 1 - face.type.side;
  return emit(OpCode::mate, type, face.reg);
}

Operand Compiler::visit(const PartOfExpr& e, ExprId id) {
  const Operand face = compile(e.face);
  if (face.is_error()) return error(id);
  if (face.type.kind != TypeKind::face) {
    context_.messages.add(Code::not_an_entity, span(e.face), {"a face", what(face)});
    return error(id);
  }
  // When only one kind has such a face, its attributes are known; else only what every part has.
  KindId only;
  int kinds = 0;
  for (std::size_t k = 0; k < context_.model.kinds.size(); ++k) {
    const KindId kind{k};
    for (const auto& def : context_.model.kinds[kind].faces)
      if (def.interface == face.type.interface && def.side == face.type.side) {
        if (only != kind) ++kinds;
        only = kind;
      }
  }
  Type type = simple_type(TypeKind::part);
  if (kinds == 1) type.part_kind = only;
  return emit(OpCode::part_of, type, face.reg);
}

}  // namespace mm

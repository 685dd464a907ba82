// Names, fields, mates: what a word or a dotted path stands for.
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

/// False: it is one that is computed, and not compiled yet.
bool Compiler::has_field(const Operand& size, const Name& field) {
  if (context_.field_needs == nullptr) return true;
  const bool of_itself = frame().self && frame().self->reg == size.reg;
  return context_.field_needs->reads(size.type.designation, field.symbol, of_itself);
}

/// Sizes are equal when all their fields are.
void Compiler::note_compared(const Type& type) {
  if (context_.field_needs != nullptr && type.kind == TypeKind::designation)
    context_.field_needs->compares(type.designation);
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

Operand Compiler::visit(const FieldExpr& e, ExprId id) {
  Operand object = compile(e.object);
  if (object.is_error()) return error(id);
  if (object.bare_word) {
    const std::string later = hint_for_word(object.bare_word);
    std::vector<std::string_view> known;
    for (const auto& entry : frame().bindings) known.push_back(context_.names.text(entry.name));
    if (frame().lets_seen < context_.names_for_hints)
      for (std::size_t i = 0; i < frame().lets_seen; ++i)
        known.push_back(context_.names.text((*frame().lets)[i].name.symbol));
    context_.messages.add(
        Code::word_unknown, span(e.object), {context_.text(object.bare_word)},
        later.empty() ? context_.suggest(context_.names.text(object.bare_word), known) : later);
    return error(id);
  }
  return field_of(object, e.field, id);
}

Operand Compiler::attribute_of(const Operand& entity, const Schema& schema, std::uint32_t index, ExprId id) {
  const AttributeDef& def = schema.attributes[index];
  if (def.type.kind == TypeKind::error) return error(id);
  const bool price =
      entity.type.kind == TypeKind::part && index == static_cast<std::uint32_t>(PartProperty::price);
  if (price && context_.currencies.size() != 1) {
    context_.messages.add(Code::price_currency, span(id), {std::to_string(context_.currencies.size())});
    return error(id);
  }
  return emit(OpCode::attribute, def.type, entity.reg, no_reg, no_reg, index);
}

Operand Compiler::let_of_kind(const Operand& part, const Lets& lets, std::size_t at, ExprId id) {
  const LetDecl& let = lets[at];
  for (const auto* active : active_lets_) {
    if (active != &let) continue;
    context_.messages.add(Code::formula_circle, let.name.span,
                          {context_.text(let.name) + " -> " + context_.text(let.name)},
                          "a derived value may use only those above it");
    return error(id);
  }
  active_lets_.push_back(&let);
  Frame inner;
  inner.self = part;
  inner.lets = &lets;
  inner.lets_seen = at;
  frames_.push_back(std::move(inner));
  Operand operand = compile(let.value);
  const std::string hint = hint_for_word(operand.bare_word);
  frames_.pop_back();
  active_lets_.pop_back();
  if (operand.bare_word) {
    context_.messages.add(Code::word_unknown, span(let.value), {context_.text(operand.bare_word)}, hint);
    return error(id);
  }
  return operand;
}

Operand Compiler::field_of(const Operand& object, const Name& field, ExprId id) {
  std::vector<std::string_view> known;
  std::string other;  // a hint, where the field belongs to what the face is joined to
  const auto learn = [&](const Schema& schema) {
    for (const auto& attribute : schema.attributes) known.push_back(context_.names.text(attribute.name));
  };
  switch (object.type.kind) {
    case TypeKind::part: {
      if (!object.type.part_kind) {
        // every schema begins with the properties that are common to all
        static const std::vector<std::string_view> common{"price",     "state", "quantity", "hand", "seller",
                                                          "return_by", "tag",   "note",     "place"};
        if (context_.any_part.attributes.empty()) add_part_properties(context_, context_.any_part);
        const Schema& schema = context_.any_part;
        if (auto found = schema.index.find(field.symbol); found != schema.index.end())
          return attribute_of(object, schema, found->second, id);
        known = common;
        break;
      }
      const KindDef& kind = context_.model.kinds[object.type.part_kind];
      if (auto found = kind.schema.index.find(field.symbol); found != kind.schema.index.end())
        return attribute_of(object, kind.schema, found->second, id);
      for (std::uint32_t i = 0; i < kind.faces.size(); ++i) {
        if (kind.faces[i].name != field.symbol) continue;
        Type type = simple_type(TypeKind::face);
        type.interface = kind.faces[i].interface;
        type.side = kind.faces[i].side;
        return emit(OpCode::face_of, type, object.reg, no_reg, no_reg, i);
      }
      const Lets& lets = context_.lets_of(object.type.part_kind);
      if (const std::size_t at = lets.find(field.symbol, lets.size()); at < lets.size())
        return let_of_kind(object, lets, at, id);
      if (context_.lacks_face(object.type.part_kind, field.symbol) ||
          context_.kinds_in_error.contains(object.type.part_kind))
        return error(id);
      learn(kind.schema);
      for (const auto& face : kind.faces) known.push_back(context_.names.text(face.name));
      for (const auto& let : kind.lets) known.push_back(context_.names.text(let.name.symbol));
      break;
    }
    case TypeKind::face: {
      const Schema& schema = context_.model.interfaces[object.type.interface].sides[object.type.side].schema;
      if (auto found = schema.index.find(field.symbol); found != schema.index.end())
        return attribute_of(object, schema, found->second, id);
      if (context_.sides_in_error.contains(Context::key_of_side(object.type.interface, object.type.side)))
        return error(id);
      learn(schema);
      for (const SideDef& side : context_.model.interfaces[object.type.interface].sides)
        if (side.schema.index.contains(field.symbol) && object.expr)
          other = fmt::format("the \"{}\" side has it: (mate of {}).{}", context_.text(side.name),
                              context_.sources.text(span(object.expr)), context_.text(field));
      break;
    }
    case TypeKind::designation: {
      const DesignationDef& def = context_.model.designations[object.type.designation];
      if (context_.names.text(field.symbol) == "form") {
        Operand operand = error(id);
        operand.form_of = object.reg;
        return operand;
      }
      if (!has_field(object, field)) return error(id);
      for (std::uint32_t i = 0; i < def.fields.size(); ++i) {
        if (def.fields[i].name != field.symbol) {
          known.push_back(context_.names.text(def.fields[i].name));
          continue;
        }
        if (def.fields[i].type.kind == TypeKind::error) return error(id);
        Type type = def.fields[i].type;
        type.nominal = true;
        return emit(OpCode::field, type, object.reg, no_reg, no_reg, i);
      }
      break;
    }
    default:
      break;
  }
  context_.messages.add(Code::field_unknown, field.span, {what(object), context_.text(field)},
                        other.empty() ? context_.suggest(context_.names.text(field.symbol), known) : other);
  return error(id);
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

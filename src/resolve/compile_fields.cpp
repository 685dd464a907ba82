// Fields: what a dotted path stands for.
#include <fmt/format.h>

#include "resolve/compiler.hpp"
#include "resolve/types.hpp"

namespace mm {

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
        if (context_.any_part.attributes.empty()) add_part_properties(context_, context_.any_part);
        const Schema& schema = context_.any_part;
        if (auto found = schema.index.find(field.symbol); found != schema.index.end())
          return attribute_of(object, schema, found->second, id);
        learn(schema);
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

}  // namespace mm

#include "evaluate/none_reason.hpp"

namespace mm {

namespace {

/// "thickness": the attribute that is asked of each; "value" where it is worked out from several.
std::string asked_of_each(const Model& model, const Names& names, const UndefinedAt& at) {
  const Quantifier& over = *at.over;
  if (over.body == no_block) return "value";
  const Block& body = at.program->blocks[over.body];
  for (const Op& op : body.ops) {
    if (op.target != body.result || op.code != OpCode::attribute) continue;
    const Type& owner = at.program->types[op.a];
    const Schema* schema = nullptr;
    if (owner.kind == TypeKind::face && owner.interface)
      schema = &model.interfaces[owner.interface].sides[owner.side].schema;
    else if (owner.kind == TypeKind::part && model.kinds.size() != 0)  // of any kind: what every kind has
      schema = &model.kinds[owner.part_kind ? owner.part_kind : KindId{std::size_t{0}}].schema;
    if (schema != nullptr && op.payload < schema->attributes.size())
      return std::string(names.text(schema->attributes[op.payload].name));
  }
  return "value";
}

}  // namespace

std::string none_reason(const Model& model, const Names& names, const UndefinedAt& at) {
  const Quantifier& over = *at.over;
  std::string meant = over.many_slot != no_reg ? "face of that side"
                      : over.kind              ? std::string(names.text(model.kinds[over.kind].name))
                                               : "part";
  if (over.reach_from != no_reg) meant += " that can be reached";
  if (over.where != no_block)
    meant += over.reach_from != no_reg ? " and meets the \"where\"" : " that meets the \"where\"";
  const std::string what =
      (at.code == OpCode::min_entities ? "no least " : "no greatest ") + asked_of_each(model, names, at);
  return at.surely ? "no " + meant + " is fitted, so there is " + what
                   : "there may be no " + meant + ", and then " + what;
}

}  // namespace mm

#include "resolve/places_asked.hpp"

namespace mm {

bool asks_for_places(const Context& context, const Build& build) {
  constexpr std::size_t few = 256;  // parts
  if (build.instances.size() <= few) return true;
  const auto is_place = [&](const Name& name) { return context.names.text(name.symbol) == "place"; };
  for (std::size_t i = 0; i < context.tree.exprs.size(); ++i) {
    const auto& node = context.tree.exprs[ExprId{i}].form;
    const auto* name = std::get_if<NameExpr>(&node);
    const auto* field = std::get_if<FieldExpr>(&node);
    if ((name != nullptr && is_place(name->name)) || (field != nullptr && is_place(field->field)))
      return true;
  }
  return false;
}

}  // namespace mm

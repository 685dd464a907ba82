#include "resolve/places_asked.hpp"

namespace mm {

namespace {

bool some_expression_asks(const Context& context) {
  const auto is_place = [&](const Name& name) { return context.names.text(name.symbol) == "place"; };
  for (std::size_t i = 0; i < context.tree.exprs.size(); ++i) {
    const auto& form = context.tree.exprs[ExprId{i}].form;
    const auto* name = std::get_if<NameExpr>(&form);
    const auto* field = std::get_if<FieldExpr>(&form);
    if ((name != nullptr && is_place(name->name)) || (field != nullptr && is_place(field->field)))
      return true;
  }
  return false;
}

}  // namespace

bool asks_for_places(Context& context, const Build& build) {
  constexpr std::size_t few = 256;  // parts
  if (build.instances.size() <= few) return true;
  if (!context.places_asked) context.places_asked = some_expression_asks(context);
  return *context.places_asked;
}

}  // namespace mm

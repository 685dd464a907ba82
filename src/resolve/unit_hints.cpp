#include "resolve/unit_hints.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "base/near_miss.hpp"
#include "base/unit_names.hpp"
#include "units/usual_units.hpp"

namespace mm {

namespace {

bool is_currency(std::string_view name) {
  return name.size() == 3 &&
         std::all_of(name.begin(), name.end(), [](char c) { return c >= 'A' && c <= 'Z'; });
}

/// h7, H7, js6: limits that a standard gives to a size.
bool is_tolerance_class(std::string_view name) {
  const std::size_t letters = std::min(name.find_first_of("0123456789"), name.size());
  const std::size_t digits = name.size() - letters;
  return letters >= 1 && letters <= 2 && digits >= 1 && digits <= 2 &&
         name.find_first_not_of("0123456789", letters) == std::string_view::npos;
}

/// The unit with `name` in the place of `bad` is of the dimension.
bool gives(const Context& context, const UnitSyntax& unit, std::string_view bad, std::string_view name,
           const Dimension& dimension) {
  std::vector<UnitFactor> factors;
  for (const auto& factor : context.tree.units[unit.id]) {
    const std::string_view written = context.names.text(factor.name);
    factors.push_back({written == bad ? name : written, factor.power});
  }
  const Unit* alone = factors.size() == 1 && factors[0].power == 1 ? context.model.units.find(name) : nullptr;
  if (alone != nullptr) return compatible(alone->dimension, dimension);
  std::string unknown;
  const auto product = context.model.units.product(factors, &unknown);
  return product && compatible(product->dimension, dimension);
}

/// The usual ones first: of several that are equally near, one of them is meant more often.
std::vector<std::string_view> names_by_use(const Context& context) {
  std::vector<std::string_view> names(common_unit_names.begin(), common_unit_names.end());
  for (const std::string_view name : context.model.units.all_names())
    if (std::find(common_unit_names.begin(), common_unit_names.end(), name) == common_unit_names.end())
      names.push_back(name);
  return names;
}

}  // namespace

std::string unit_example(const Context& context, const Dimension& dimension) {
  return usual_units_text(dimension, context.names);
}

std::string hint_for_missing_unit(const Context& context, const Dimension& dimension, const Unit* declared) {
  std::string units = unit_example(context, dimension);
  if (declared != nullptr && !declared->text.empty() &&
      (" " + units + " ").find(" " + declared->text + " ") == std::string::npos)
    units = declared->text;
  return units.empty() ? units : "write the unit with it, " + units;
}

std::string hint_for_unknown_unit(Context& context, const UnitSyntax& unit, std::string_view bad,
                                  const Type* wanted) {
  if (wanted != nullptr && wanted->kind == TypeKind::count)
    return "a count stands without a unit, as quantity 2";
  const Dimension* dimension =
      wanted != nullptr && wanted->kind == TypeKind::quantity && !wanted->dimension.is_ratio()
          ? &wanted->dimension
          : nullptr;
  const std::string declare =
      is_currency(bad) ? fmt::format("a currency is declared first: currency {}", bad) : std::string();
  if (!declare.empty() && (dimension == nullptr || dimension->currency.is_none())) return declare;
  std::vector<std::string_view> names = names_by_use(context);
  if (names.size() > context.names_for_hints) return {};
  context.names_for_hints -= names.size();
  if (dimension != nullptr)
    std::erase_if(names, [&](std::string_view name) {
      return nearest_name(bad, std::span(&name, 1)).empty() || !gives(context, unit, bad, name, *dimension);
    });
  if (const std::string near = nearest_name(bad, names); !near.empty())
    return fmt::format("did you mean \"{}\"?", near);
  if (dimension == nullptr || !declare.empty()) return declare;
  if (dimension->currency) return "write the amount in " + context.text(dimension->currency);
  const std::string units = unit_example(context, *dimension);
  if (is_tolerance_class(bad) && units == unit_example(context, context.model.units.find("mm")->dimension))
    return "write the limits that it stands for, as 25 mm +0.021 -0";
  return units.empty() ? units
                       : fmt::format("{} is written in {}", dimension_text(context, *dimension), units);
}

std::string wanted_dimension(const Context& context, const Type& wanted) {
  return wanted.kind == TypeKind::quantity ? dimension_name(wanted.dimension, context.names) : std::string{};
}

}  // namespace mm

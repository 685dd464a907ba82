#include "units/usual_units.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstdlib>

namespace mm {

namespace {

struct Usual {
  std::string_view word;  // of the dimension
  std::array<UnitFactor, 3> factors;
  std::string_view other;  // written as often

  std::span<const UnitFactor> unit() const {
    const auto end =
        std::find_if(factors.begin(), factors.end(), [](const UnitFactor& f) { return f.name.empty(); });
    return {factors.begin(), end};
  }
};

// clang-format off
constexpr Usual table[] = {
    {"length",                {{{"mm", 1}}}, "in"},
    {"area",                  {{{"mm", 2}}}, ""},
    {"volume",                {{{"cm", 3}}}, ""},
    {"second_moment_of_area", {{{"cm", 4}}}, ""},
    {"mass",                  {{{"kg", 1}}}, "lb"},
    {"force",                 {{{"N", 1}}}, "lbf"},
    {"torque",                {{{"N", 1}, {"m", 1}}}, "lbf*ft"},
    {"torque or energy",      {{{"N", 1}, {"m", 1}}}, ""},
    {"pressure",              {{{"MPa", 1}}}, "psi"},
    {"speed",                 {{{"km", 1}, {"h", -1}}}, "mph"},
    {"acceleration",          {{{"m", 1}, {"s", -2}}}, ""},
    {"power",                 {{{"kW", 1}}}, ""},
    {"energy",                {{{"J", 1}}}, ""},
    {"angle",                 {{{"deg", 1}}}, ""},
    {"rotation",              {{{"rpm", 1}}}, ""},
    {"angular_acceleration",  {{{"deg", 1}, {"s", -2}}}, ""},
    {"revs_per_length",       {{{"rev", 1}, {"km", -1}}}, ""},
    {"length_per_rev",        {{{"m", 1}, {"rev", -1}}}, ""},
    {"per_length",            {{{"tpi", 1}}}, ""},
    {"temperature",           {{{"degC", 1}}}, "K"},
    {"time",                  {{{"s", 1}}}, ""},
    {"density",               {{{"kg", 1}, {"m", -3}}}, ""},
    {"mass_per_length",       {{{"kg", 1}, {"m", -1}}}, ""},
    {"mass_per_area",         {{{"kg", 1}, {"m", -2}}}, ""},
    {"moment_of_inertia",     {{{"kg", 1}, {"m", 2}}}, ""},
    {"momentum",              {{{"kg", 1}, {"m", 1}, {"s", -1}}}, ""},
    {"spring_rate",           {{{"N", 1}, {"mm", -1}}}, ""},
    {"torsional_rate",        {{{"N", 1}, {"m", 1}, {"deg", -1}}}, ""},
    {"damping",               {{{"N", 1}, {"s", 1}, {"mm", -1}}}, ""},
    {"frequency",             {{{"Hz", 1}}}, ""},
    {"volume_flow",           {{{"L", 1}, {"min", -1}}}, ""},
    {"mass_flow",             {{{"kg", 1}, {"s", -1}}}, ""},
    {"kinematic_viscosity",   {{{"cSt", 1}}}, ""},
    {"dynamic_viscosity",     {{{"cP", 1}}}, ""},
    {"current",               {{{"A", 1}}}, ""},
    {"voltage",               {{{"V", 1}}}, ""},
    {"resistance",            {{{"ohm", 1}}}, ""},
    {"charge",                {{{"Ah", 1}}}, ""},
    {"capacitance",           {{{"uF", 1}}}, ""},
    {"inductance",            {{{"mH", 1}}}, ""},
    {"amount",                {{{"mol", 1}}}, ""},
    {"luminous_intensity",    {{{"cd", 1}}}, ""},
    {"illuminance",           {{{"lx", 1}}}, ""},
};
// clang-format on

const Usual* find_usual(const Dimension& dimension, const Names& names) {
  const std::string word = dimension_name(dimension, names);
  const auto at =
      std::find_if(std::begin(table), std::end(table), [&](const Usual& row) { return row.word == word; });
  return at == std::end(table) ? nullptr : at;
}

void put(std::string& text, std::string_view name, int twelfths) {
  text += twelfths < 0 ? (text.empty() ? "1/" : "/") : text.empty() ? "" : "*";
  text += name;
  const int size = std::abs(twelfths);
  if (size != 12) text += size % 12 == 0 ? fmt::format("^{}", size / 12) : fmt::format("^({}/12)", size);
}

std::string text_of(std::span<const UnitFactor> factors) {
  std::string text;
  for (const UnitFactor& one : factors) put(text, one.name, one.power * 12);
  return text;
}

/// Spelled as a product.
Unit base_units(const Dimension& dimension, const Names& names) {
  static constexpr std::array<std::string_view, base_dimension_count> base = {"m",    "kg", "s",   "K",
                                                                              "turn", "A",  "mol", "cd"};
  Unit out;
  out.dimension = dimension;
  for (const int sign : {1, -1}) {
    for (std::size_t i = 0; i < base_dimension_count; ++i)
      if (dimension.twelfths[i] * sign > 0) put(out.text, base[i], dimension.twelfths[i]);
    if (dimension.currency && dimension.currency_twelfths * sign > 0)
      put(out.text, names.text(dimension.currency), dimension.currency_twelfths);
  }
  return out;
}

}  // namespace

bool has_usual_unit(const Dimension& dimension, const Names& names) {
  return find_usual(dimension, names) != nullptr;
}

Unit usual_unit(const Dimension& dimension, const UnitTable& units, const Names& names) {
  if (dimension.is_ratio()) return Unit{};
  const Usual* row = find_usual(dimension, names);
  if (row == nullptr) return base_units(dimension, names);
  auto unit = units.product(row->unit(), nullptr);
  if (!unit) return base_units(dimension, names);
  unit->text = text_of(row->unit());
  return *unit;
}

std::string usual_units_text(const Dimension& dimension, const Names& names) {
  const Usual* row = find_usual(dimension, names);
  if (row == nullptr) return dimension.currency ? std::string(names.text(dimension.currency)) : std::string();
  return text_of(row->unit()) + (row->other.empty() ? "" : " or ") + std::string(row->other);
}

}  // namespace mm

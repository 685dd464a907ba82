#include "units/dimension_words.hpp"

namespace mm {
namespace {

// clang-format off
constexpr DimensionWord table[] = {
    //                         L   M   T  temp angle I  mol cd
    {"ratio",                {{ 0,  0,  0,  0,  0,  0,  0,  0}}},
    {"length",               {{ 1,  0,  0,  0,  0,  0,  0,  0}}},
    {"area",                 {{ 2,  0,  0,  0,  0,  0,  0,  0}}},
    {"volume",               {{ 3,  0,  0,  0,  0,  0,  0,  0}}},
    {"section_modulus",      {{ 3,  0,  0,  0,  0,  0,  0,  0}}},
    {"second_moment_of_area", {{ 4, 0,  0,  0,  0,  0,  0,  0}}},
    {"mass",                 {{ 0,  1,  0,  0,  0,  0,  0,  0}}},
    {"time",                 {{ 0,  0,  1,  0,  0,  0,  0,  0}}},
    {"temperature",          {{ 0,  0,  0,  1,  0,  0,  0,  0}}},
    {"temperature_difference", {{ 0, 0, 0,  1,  0,  0,  0,  0}}},
    {"angle",                {{ 0,  0,  0,  0,  1,  0,  0,  0}}},
    {"current",              {{ 0,  0,  0,  0,  0,  1,  0,  0}}},
    {"amount",               {{ 0,  0,  0,  0,  0,  0,  1,  0}}},
    {"luminous_intensity",   {{ 0,  0,  0,  0,  0,  0,  0,  1}}},
    {"force",                {{ 1,  1, -2,  0,  0,  0,  0,  0}}},
    {"torque",               {{ 2,  1, -2,  0,  0,  0,  0,  0}}, QuantityTag::torque},
    {"energy",               {{ 2,  1, -2,  0,  0,  0,  0,  0}}, QuantityTag::energy},
    {"power",                {{ 2,  1, -3,  0,  0,  0,  0,  0}}},
    {"pressure",             {{-1,  1, -2,  0,  0,  0,  0,  0}}},
    {"stress",               {{-1,  1, -2,  0,  0,  0,  0,  0}}},
    {"speed",                {{ 1,  0, -1,  0,  0,  0,  0,  0}}},
    {"acceleration",         {{ 1,  0, -2,  0,  0,  0,  0,  0}}},
    {"frequency",            {{ 0,  0, -1,  0,  0,  0,  0,  0}}},
    {"rotation",             {{ 0,  0, -1,  0,  1,  0,  0,  0}}},
    {"angular_acceleration", {{ 0,  0, -2,  0,  1,  0,  0,  0}}},
    {"revs_per_length",      {{-1,  0,  0,  0,  1,  0,  0,  0}}},
    {"length_per_rev",       {{ 1,  0,  0,  0, -1,  0,  0,  0}}},
    {"per_length",           {{-1,  0,  0,  0,  0,  0,  0,  0}}},
    {"thermal_expansion",    {{ 0,  0,  0, -1,  0,  0,  0,  0}}},
    {"spring_rate",          {{ 0,  1, -2,  0,  0,  0,  0,  0}}},
    {"torsional_rate",       {{ 2,  1, -2,  0, -1,  0,  0,  0}}},
    {"damping",              {{ 0,  1, -1,  0,  0,  0,  0,  0}}},
    {"density",              {{-3,  1,  0,  0,  0,  0,  0,  0}}},
    {"mass_per_length",      {{-1,  1,  0,  0,  0,  0,  0,  0}}},
    {"mass_per_area",        {{-2,  1,  0,  0,  0,  0,  0,  0}}},
    {"moment_of_inertia",    {{ 2,  1,  0,  0,  0,  0,  0,  0}}},
    {"momentum",             {{ 1,  1, -1,  0,  0,  0,  0,  0}}},
    {"volume_flow",          {{ 3,  0, -1,  0,  0,  0,  0,  0}}},
    {"mass_flow",            {{ 0,  1, -1,  0,  0,  0,  0,  0}}},
    {"kinematic_viscosity",  {{ 2,  0, -1,  0,  0,  0,  0,  0}}},
    {"dynamic_viscosity",    {{-1,  1, -1,  0,  0,  0,  0,  0}}},
    {"specific_heat",        {{ 2,  0, -2, -1,  0,  0,  0,  0}}},
    {"heat_capacity",        {{ 2,  1, -2, -1,  0,  0,  0,  0}}},
    {"thermal_conductivity", {{ 1,  1, -3, -1,  0,  0,  0,  0}}},
    {"voltage",              {{ 2,  1, -3,  0,  0, -1,  0,  0}}},
    {"resistance",           {{ 2,  1, -3,  0,  0, -2,  0,  0}}},
    {"charge",               {{ 0,  0,  1,  0,  0,  1,  0,  0}}},
    {"capacitance",          {{-2, -1,  4,  0,  0,  2,  0,  0}}},
    {"inductance",           {{ 2,  1, -2,  0,  0, -2,  0,  0}}},
    {"illuminance",          {{-2,  0,  0,  0,  0,  0,  0,  1}}},
};
// clang-format on

}  // namespace

Dimension DimensionWord::dimension() const {
  Dimension result;
  for (std::size_t i = 0; i < base_dimension_count; ++i) {
    result.twelfths[i] = static_cast<std::int16_t>(exponents[i] * 12);
  }
  result.tag = tag;
  return result;
}

std::span<const DimensionWord> dimension_word_table() { return table; }

const DimensionWord* find_dimension_word(std::string_view word) {
  for (const DimensionWord& row : table) {
    if (row.word == word) return &row;
  }
  return nullptr;
}

}  // namespace mm

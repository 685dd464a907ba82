#include "units/unit_table.hpp"

#include <algorithm>
#include <cstdlib>

#include "base/unit_names.hpp"
#include "units/builtin_units.hpp"
#include "units/dimension_words.hpp"

namespace mm {
namespace {

constexpr int max_unit_power = 24;
constexpr std::size_t max_factor_bits = 4096;

bool is_word(const Dimension& dimension, std::string_view word) {
  return dimension.twelfths == find_dimension_word(word)->dimension().twelfths &&
         dimension.currency_twelfths == 0;
}

/// Multiplies `total` by unit^exponent; false where a factor or an exponent would pass its limit.
bool multiply(Unit& total, const Unit& unit, int exponent) {
  if (std::abs(exponent) > max_unit_power || unit.factor == 0) return false;
  if (bits(unit.factor) * static_cast<std::size_t>(std::abs(exponent)) > max_factor_bits) return false;
  const auto raised = power(unit.dimension, Rational(exponent));
  const auto dimension = raised ? product(total.dimension, *raised) : std::nullopt;
  if (!dimension) return false;
  total.dimension = *dimension;
  total.factor *= whole_power(unit.factor, exponent);
  total.pi_power += unit.pi_power * exponent;
  return bits(total.factor) <= max_factor_bits && std::abs(total.pi_power) <= max_unit_power;
}

Unit unit_of(const BuiltinUnit& row) {
  Unit unit;
  unit.dimension = find_dimension_word(row.dimension)->dimension();
  unit.factor = *read_number(row.factor);
  unit.offset = *read_number(row.offset);
  unit.pi_power = row.pi_power;
  unit.text = row.name;
  unit.for_differences = row.dimension == "temperature_difference";
  return unit;
}

void append_factor(std::string& text, const UnitFactor& factor) {
  if (factor.power < 0) {
    text += text.empty() ? "1/" : "/";
  } else if (!text.empty()) {
    text += '*';
  }
  text += factor.name;
  if (std::abs(factor.power) == 1) return;
  text += '^';
  text += std::to_string(std::abs(factor.power));
}

}  // namespace

bool UnitTable::declare(std::string_view name, const Unit& definition) {
  if (find(name) != nullptr) return false;
  units_.emplace(name, definition).first->second.text = name;
  return true;
}

bool UnitTable::declare_currency(Symbol name, std::string_view text) {
  Unit unit;
  unit.dimension.currency = name;
  unit.dimension.currency_twelfths = 12;
  return declare(text, unit);
}

const Unit* UnitTable::find(std::string_view name) const {
  const std::lock_guard lock(*mutex_);
  const auto found = units_.find(name);
  if (found != units_.end()) return &found->second;
  if (!is_builtin_unit_name(name)) return nullptr;
  for (const BuiltinUnit& row : builtin_units())
    if (row.name == name) return &units_.emplace(name, unit_of(row)).first->second;
  return nullptr;
}

std::optional<Unit> UnitTable::product(std::span<const UnitFactor> factors, std::string* bad_name) const {
  if (bad_name) bad_name->clear();
  if (factors.size() == 1 && factors[0].power == 1) {
    const Unit* unit = find(factors[0].name);
    if (unit && bits(unit->factor) <= max_factor_bits) return *unit;
  }
  Unit total;
  bool has_force = false, has_length = false, has_other = false;
  for (const UnitFactor& factor : factors) {
    const Unit* unit = find(factor.name);
    if (!unit) {
      if (bad_name) *bad_name = factor.name;
      return std::nullopt;
    }
    if (unit->offset != 0 || !multiply(total, *unit, factor.power)) return std::nullopt;
    const bool force = is_word(unit->dimension, "force"), length = is_word(unit->dimension, "length");
    has_force |= force;
    has_length |= length;
    has_other |= !force && !length;
    append_factor(total.text, factor);
  }
  if (has_force && has_length && !has_other && is_word(total.dimension, "torque")) {
    total.dimension.tag = QuantityTag::torque;
  }
  return total;
}

std::vector<std::string_view> UnitTable::all_names() const {
  std::vector<std::string_view> names(builtin_unit_names.begin(), builtin_unit_names.end());
  for (const auto& [name, unit] : units_)
    if (!is_builtin_unit_name(name)) names.push_back(name);
  std::sort(names.begin(), names.end());
  return names;
}

std::optional<Dimension> UnitTable::dimension_word(std::string_view word) {
  const DimensionWord* row = find_dimension_word(word);
  if (!row) return std::nullopt;
  return row->dimension();
}

std::vector<std::string_view> UnitTable::dimension_words() {
  std::vector<std::string_view> words;
  for (const DimensionWord& row : dimension_word_table()) words.push_back(row.word);
  return words;
}

Rational to_base(const Rational& amount, const Unit& unit) { return amount * unit.factor + unit.offset; }

Rational from_base(const Rational& base_value, const Unit& unit) {
  return (base_value - unit.offset) / unit.factor;
}

}  // namespace mm

#include "evaluate/told_unit.hpp"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <vector>

namespace mm {

namespace {

using Factors = std::vector<UnitFactor>;

/// Units to show a number in when no value that was read names one, tried in order.
const std::vector<Factors>& common_units() {
  static const std::vector<Factors> units = {{{"mm", 1}},
                                             {{"deg", 1}},
                                             {{"MPa", 1}},
                                             {{"N", 1}},
                                             {{"kg", 1}},
                                             {{"K", 1}},
                                             {{"s", 1}},
                                             {{"A", 1}},
                                             {{"mm", 2}},
                                             {{"cm", 3}},
                                             {{"km", 1}, {"h", -1}},
                                             {{"N", 1}, {"m", 1}},
                                             {{"N", 1}, {"mm", -1}},
                                             {{"rpm", 1}},
                                             {{"W", 1}}};
  return units;
}

/// Of any other dimension: its base units, where each stands to a whole power.
Factors base_units(const Dimension& dimension, const Names& names) {
  constexpr std::array<std::string_view, base_dimension_count> bases = {"m",   "kg", "s",   "K",
                                                                        "deg", "A",  "mol", "cd"};
  constexpr int whole = 12;
  Factors out;
  if (dimension.currency)
    out.push_back({names.text(dimension.currency), dimension.currency_twelfths / whole});
  for (std::size_t i = 0; i < bases.size(); ++i)
    if (dimension.twelfths[i] != 0) out.push_back({bases[i], dimension.twelfths[i] / whole});
  std::stable_partition(out.begin(), out.end(), [](const UnitFactor& one) { return one.power > 0; });
  return out;
}

std::string text_of(const Factors& factors) {
  std::string out;
  for (const UnitFactor& one : factors) {
    const int power = std::abs(one.power);
    out += out.empty() ? one.power < 0 ? "1/" : "" : one.power < 0 ? "/" : "*";
    out += one.name;
    if (power != 1) out += "^" + std::to_string(power);
  }
  return out;
}

}  // namespace

std::optional<Unit> told_unit(const UnitTable& units, const Names& names, const Dimension& dimension,
                              const Unit* wanted) {
  if (wanted != nullptr && wanted->pi_power == 0 && compatible(wanted->dimension, dimension)) return *wanted;
  if (dimension.is_ratio()) return std::nullopt;
  const auto made = [&](const Factors& factors) {
    auto unit = units.product(factors, nullptr);
    if (unit && unit->pi_power == 0 && compatible(unit->dimension, dimension)) {
      unit->text = text_of(factors);
      return unit;
    }
    return std::optional<Unit>();
  };
  for (const Factors& factors : common_units())
    if (auto unit = made(factors)) return unit;
  return made(base_units(dimension, names));
}

}  // namespace mm

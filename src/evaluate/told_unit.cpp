#include "evaluate/told_unit.hpp"

#include "units/usual_units.hpp"

namespace mm {

std::optional<Unit> told_unit(const UnitTable& units, const Names& names, const Dimension& dimension,
                              const Unit* wanted, bool difference) {
  if (wanted != nullptr && wanted->pi_power == 0 && compatible(wanted->dimension, dimension)) return *wanted;
  if (dimension.is_ratio()) return std::nullopt;
  const Unit usual = usual_unit(dimension, units, names);
  return usual.offset != 0 && difference ? *units.find("K") : usual;
}

}  // namespace mm

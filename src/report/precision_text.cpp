#include "report/precision_text.hpp"

#include <cmath>

#include "report/numbers.hpp"

namespace mm {

Unit precision_unit(const Scene& scene, const RequirementDef& requirement, const Outcome& outcome) {
  return measure_unit(scene, requirement, outcome, outcome.precision->measure);
}

std::string precision_text(const Scene& scene, const RequirementDef& requirement, const Outcome& outcome) {
  if (!outcome.precision) return {};
  const Unit unit = precision_unit(scene, requirement, outcome);
  const auto at_most = [&](double base) {
    const std::string number = significant(in_unit(exact(base), unit, true), 3, Rounding::up);
    return "at most " + number + unit_suffix(unit, true);
  };
  const double short_of = -outcome.precision->least, spare = outcome.precision->most;
  const std::string at_limit = "lies right at its limit";
  const auto misses = [&] { return short_of > 0 ? "is " + at_most(short_of) + " short" : at_limit; };
  const auto fits = [&] { return spare > 0 ? "fits with " + at_most(spare) + " to spare" : at_limit; };
  if (!std::isfinite(spare)) return "it fits, or " + misses();
  if (!std::isfinite(short_of)) return "it fails, or " + fits();
  if (short_of <= 0 && spare <= 0) return "it " + at_limit;
  const bool fits_first = spare > 0 && short_of <= spare;
  return fits_first ? "it " + fits() + ", or " + misses() : "it " + misses() + ", or " + fits();
}

std::string not_decided_text(const Scene& scene, const RequirementDef& requirement, const Outcome& outcome) {
  const std::string known = precision_text(scene, requirement, outcome);
  return "not decided at the precision that the checker works to" + (known.empty() ? "" : ": " + known);
}

std::string work_limit_text(const Scene& scene, const RequirementDef& requirement, const Outcome& outcome) {
  const std::string known = precision_text(scene, requirement, outcome);
  return "It takes more work than one check may do; --max-work allows more." +
         (known.empty() ? "" : " As far as it was worked out, " + known + ".");
}

}  // namespace mm

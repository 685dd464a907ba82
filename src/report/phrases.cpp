#include "report/phrases.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>

#include "report/numbers.hpp"
#include "report/page.hpp"

namespace mm {

namespace {

/// A length of at least / at most: digits enough to be no zero, rounded to the careful side.
std::string amount(const Rational& base, const Unit& unit, Rounding rounding) {
  const Rational value = in_unit(base, unit, true);
  const std::string nearest = significant(value, 7);
  return (nearest.size() <= 7 ? nearest : significant(value, 4, rounding)) + unit_suffix(unit, true);
}

bool nearly_point(const Interval& margin) {
  return margin.hi - margin.lo() <= 1e-9 * std::max(std::abs(margin.hi), std::abs(margin.lo()));
}

}  // namespace

Unit margin_unit(const Scene& scene, const RequirementDef& requirement, const Outcome& outcome) {
  if (requirement.margin_unit && compatible(requirement.margin_unit->dimension, outcome.margin_dimension))
    return *requirement.margin_unit;
  for (const CellId cell : outcome.reads) {
    const Given* given = given_of(scene, cell);
    if (given != nullptr && given->unit && compatible(given->unit->dimension, outcome.margin_dimension))
      return *given->unit;
  }
  return usual_unit(outcome.margin_dimension, scene.model().units, scene.names);
}

std::string margin_text(const Scene& scene, const RequirementDef& requirement, const Outcome& outcome) {
  if (!outcome.margin || outcome.margin->is_empty()) return {};
  const Interval& margin = *outcome.margin;
  const Unit unit = margin_unit(scene, requirement, outcome);
  const bool finite_lo = std::isfinite(margin.lo()), finite_hi = std::isfinite(margin.hi);
  switch (outcome.verdict) {
    case Verdict::conflict:
      if (!finite_hi || margin.hi >= 0) return {};
      return std::string("misses by ") + (nearly_point(margin) ? "" : "at least ") +
             amount(exact(-margin.hi), unit, Rounding::down);
    case Verdict::fits:
      if (!finite_lo || margin.lo() < 0) return {};
      if (margin.lo() == 0) return "nothing to spare";
      return (nearly_point(margin) ? "" : "at least ") + amount(exact(margin.lo()), unit, Rounding::down) +
             " to spare";
    case Verdict::unknown:
    case Verdict::setting:
    case Verdict::choice:
      if (!finite_lo || !finite_hi || margin.lo() >= 0 || margin.hi < 0) return {};
      return "between " + amount(exact(-margin.lo()), unit, Rounding::up) + " short and " +
             amount(exact(margin.hi), unit, Rounding::up) + " to spare";
    case Verdict::not_applicable:
      break;
  }
  return {};
}

std::string reads_text(const Scene& scene, const CellOwners& owners, const Outcome& outcome,
                       std::size_t limit) {
  std::vector<std::string> items;
  std::size_t left = 0;
  for (const CellId cell : outcome.reads) {
    const CellOwner* owner = owners.of(cell);
    if (owner == nullptr) continue;
    const Given* given = given_of(scene, cell);
    std::string item = attribute_name(scene, *owner) + " " + as_written(scene, cell);
    if (given == nullptr && owner->def->type.kind == TypeKind::place) continue;
    if (given != nullptr) {
      const std::string at = where(scene, given->span, true);
      if (!at.empty()) item += " (" + at + ")";
    }
    if (std::find(items.begin(), items.end(), item) != items.end()) continue;
    if (items.size() == limit)
      ++left;
    else
      items.push_back(std::move(item));
  }
  std::string out = listed(items, ", ");
  if (left != 0) out += ", and " + std::to_string(left) + " more";
  return out;
}

std::string places_text(const Scene& scene, const std::vector<Symbol>& places) {
  std::vector<Symbol> distinct;
  for (const Symbol place : places)
    if (place && std::find(distinct.begin(), distinct.end(), place) == distinct.end())
      distinct.push_back(place);
  if (distinct.empty()) return {};
  if (distinct.size() > 3 && distinct.size() == scene.build.places.size())
    return " at all " + std::to_string(distinct.size()) + " places";
  std::vector<std::string> texts;
  for (const Symbol place : distinct) texts.push_back(scene.text(place));
  return " at " + listed(texts);
}

std::string sentence(std::string text) {
  if (text.empty()) return text;
  text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
  if (text.back() != '.' && text.back() != '?' && text.back() != '!') text += '.';
  return text;
}

}  // namespace mm

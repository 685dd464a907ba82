#include "report/phrases.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>

#include "base/date_text.hpp"
#include "base/rational.hpp"
#include "report/numbers.hpp"
#include "report/page.hpp"
#include "report/regions.hpp"

namespace mm {

namespace {

constexpr std::size_t most_settings_named = 4;
constexpr std::string_view days = "days";

/// A length of at least / at most: four digits, rounded to the careful side.
std::string amount(const Rational& base, const Unit& unit, Rounding rounding) {
  const Rational value = in_unit(base, unit, true);
  const std::string nearest = significant(value, 7);
  const bool whole = nearest.find('.') == std::string::npos && nearest.size() <= 7;
  const bool short_enough = nearest.size() <= 5 || whole || nearest == significant(value, 4);
  const std::string number = short_enough ? nearest : significant(value, 4, rounding);
  return number + (number == "1" && unit.text == days ? " day" : unit_suffix(unit, true));
}

/// " (wheels.parts:12, 30)": lines of one file after its first mention.
std::string places_in_files(const Scene& scene, const std::vector<Span>& spans) {
  std::string out, last_file;
  for (const Span span : spans) {
    const std::string at = where(scene, span, true);
    const std::size_t colon = at.rfind(':');
    const std::string file = at.substr(0, colon);
    out += out.empty() ? " (" : ", ";
    out += file == last_file ? at.substr(colon + 1) : at;
    last_file = file;
  }
  return out.empty() ? out : out + ")";
}

/// The settings from `from` to `to` of a list, or in steps; empty where there are many or any value will do.
std::vector<Rational> settings_between(const Given& given, const SettingWindow& window) {
  std::vector<Rational> out;
  if (!given.adjustment) return out;
  const auto& [step, settings] = *given.adjustment;
  if (settings.empty() && step)
    for (Rational at = window.from.at; at <= window.to.at && out.size() <= most_settings_named; at += *step)
      if (window.holds(at)) out.push_back(at);
  for (const Rational& setting : settings)
    if (window.holds(setting)) out.push_back(setting);
  return out.size() <= most_settings_named ? out : std::vector<Rational>();
}

/// Adjustable values that it read.
std::size_t knobs_read(const Scene& scene, const Outcome& outcome) {
  return static_cast<std::size_t>(std::count_if(outcome.reads.begin(), outcome.reads.end(), [&](CellId cell) {
    return (scene.build.cells[cell].flags & cell_adjustable) != 0;
  }));
}

bool nearly_point(const Interval& margin) {
  const double size = std::max(std::abs(margin.hi), std::abs(margin.lo()));
  return std::isfinite(size) && margin.hi - margin.lo() <= 1e-9 * size;
}

}  // namespace

Unit margin_unit(const Scene& scene, const RequirementDef& requirement, const Outcome& outcome) {
  return measure_unit(scene, requirement, outcome, requirement.measure);
}

Unit measure_unit(const Scene& scene, const RequirementDef& requirement, const Outcome& outcome,
                  const Measure& measure) {
  if (measure.in_days) {
    Unit unit;
    unit.text = days;
    return unit;
  }
  if (requirement.margin_unit && compatible(requirement.margin_unit->dimension, measure.dimension))
    return *requirement.margin_unit;
  for (const CellId cell : outcome.reads) {
    const Given* given = given_of(scene, cell);
    if (given != nullptr && given->unit && compatible(given->unit->dimension, measure.dimension))
      return *given->unit;
  }
  return usual_unit(measure.dimension, scene.model().units, scene.names);
}

std::string open_cell_text(const Scene& scene, const Outcome& outcome) {
  if (!outcome.open_cell) return {};
  const TableDef& table = scene.model().tables[outcome.open_cell->table];
  const AttributeDef& column = table.columns[outcome.open_cell->column];
  const ConstValue& cell = table.rows[outcome.open_cell->row][outcome.open_cell->column];
  std::string said = "nothing";
  if (cell.number) {
    const ExactInterval& number = scene.model().numbers[cell.number].exact;
    const Unit unit = column.type.kind == TypeKind::quantity ? shown_unit(scene, column, nullptr) : Unit{};
    const Interval ends = to_interval(number);
    if (column.type.kind == TypeKind::date && !number.lo_infinite && !number.hi_infinite)
      said = date_text(static_cast<long>(ends.lo())) + ".." + date_text(static_cast<long>(ends.hi));
    else if (!number.lo_infinite || !number.hi_infinite)
      said = number_text(number, unit);
  } else if (cell.symbols && cell.symbols != column.type.choices && !scene.model().sets[cell.symbols].all) {
    said = set_text(scene, scene.model().sets[cell.symbols], column.type.kind);
  }
  return "the row of " + scene.text(table.name) + " at " +
         where(scene, table.row_spans[outcome.open_cell->row], true) + " says " + said + " for " +
         scene.text(column.name);
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
      // what rounding alone leaves is not told as a size
      if (-margin.lo() <= 1e-12 * margin.hi || margin.hi <= -1e-12 * margin.lo()) return {};
      return "between " + amount(exact(-margin.lo()), unit, Rounding::up) + " short and " +
             amount(exact(margin.hi), unit, Rounding::up) + " to spare";
    case Verdict::not_applicable:
      break;
  }
  return {};
}

std::string evidence_tail(const Outcome& outcome) {
  if (!outcome.read_any) return {};
  if (outcome.evidence == Grade::hearsay) return ", on hearsay";
  return outcome.evidence == Grade::claimed ? ", on a claim" : "";
}

std::optional<Rational> known_width(const Scene& scene, const Blame& blame) {
  if (blame.missing || !blame.cell || blame.cell.index >= scene.build.cells.size()) return std::nullopt;
  const Interval& known = scene.build.cells[blame.cell].number;
  if (known.is_empty() || !std::isfinite(known.lo()) || !std::isfinite(known.hi)) return std::nullopt;
  return exact(known.hi) - exact(known.lo());
}

std::string setting_text(const Scene& scene, const Outcome& outcome) {
  if (outcome.verdict != Verdict::setting || outcome.settings.empty()) return {};
  const CellId cell = outcome.settings[0].cell;
  const auto owner = home_of(scene, cell);
  const std::string which =
      owner && knobs_read(scene, outcome) > 1 ? attribute_name(scene, *owner) + " " : std::string();
  const Given* given = given_of(scene, cell);
  const Unit unit = given != nullptr && given->unit ? *given->unit : Unit{};
  std::vector<std::string> named;
  for (const SettingWindow& piece : outcome.settings) {
    const std::size_t before = named.size();
    if (before > most_settings_named) {
      named.emplace_back("more");
      break;
    }
    if (given != nullptr)
      for (const Rational& setting : settings_between(*given, piece))
        named.push_back(significant(in_unit(setting, unit), 7) + unit_suffix(unit));
    if (named.size() == before) named.push_back(window_text(piece, unit));
  }
  return which + listed(named) + (named.size() == 1 ? " surely fits" : " surely fit");
}

std::string no_setting_text(const Scene& scene, const Outcome& outcome, const std::string& what) {
  return (knobs_read(scene, outcome) > 1 ? "they act together: no range of one of them alone is known to fit "
                                         : "no one range of settings is known to fit ") +
         (what.empty() ? "for sure" : what + " for sure");
}

std::string reads_text(const Scene& scene, const std::vector<const Outcome*>& outcomes, std::size_t limit) {
  struct Item {
    std::string text;
    const AttributeDef* def;
    std::vector<Span> at;
  };
  std::vector<Item> items;
  const auto find = [&](auto accepted) { return std::find_if(items.begin(), items.end(), accepted); };
  for (const Outcome* outcome : outcomes) {
    for (const CellId cell : outcome->reads) {
      const auto owner = home_of(scene, cell);
      if (!owner || owner->def->type.kind == TypeKind::place) continue;
      const std::string written = as_written(scene, cell);
      const std::string text = attribute_name(scene, *owner) + " " + written;
      auto item = find([&](const Item& i) { return i.text == text; });
      // the same attribute of another face with the same value: one item, two places
      if (item == items.end())
        item = find([&](const Item& i) { return i.def == owner->def && i.text.ends_with(" " + written); });
      if (item == items.end()) item = items.insert(items.end(), {text, owner->def, {}});
      const Given* given = given_of(scene, cell);
      if (given != nullptr && given->span.file &&
          std::find(item->at.begin(), item->at.end(), given->span) == item->at.end())
        item->at.push_back(given->span);
    }
  }
  std::vector<std::string> texts;
  for (const Item& item : items) {
    if (texts.size() == limit) break;
    texts.push_back(item.text + places_in_files(scene, item.at));
  }
  std::string out = listed(texts, ", ");
  if (items.size() > limit) out += ", and " + std::to_string(items.size() - limit) + " more";
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

std::string reworks_text(const Scene& scene, const std::vector<std::uint32_t>& reworks) {
  std::vector<std::string> names;
  for (const std::uint32_t rework : reworks) names.push_back(scene.text(scene.build.reworks[rework].name));
  return listed(names);
}

std::string sentence(std::string text) {
  if (text.empty()) return text;
  text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
  if (text.back() != '.' && text.back() != '?' && text.back() != '!') text += '.';
  return text;
}

std::string_view weight_word(Weight weight) {
  switch (weight) {
    case Weight::need:
      return "need";
    case Weight::should:
      return "should";
    case Weight::caution:
      return "caution";
    case Weight::also:
      return "also";
  }
  return "";
}

std::string gate_word(Gate gate) {
  switch (gate) {
    case Gate::none:
      return {};
    case Gate::order:
      return "order";
    case Gate::assemble:
      return "assemble";
    case Gate::drive:
      return "drive";
  }
  return {};
}

}  // namespace mm

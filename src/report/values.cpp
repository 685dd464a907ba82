#include "report/values.hpp"

#include "base/date_text.hpp"
#include "evaluate/build_index.hpp"
#include "report/numbers.hpp"
#include "report/page.hpp"

namespace mm {

namespace {

std::string plain_number(const Scene& scene, const Type& type, const Interval& number, const Unit& unit) {
  if (type.kind == TypeKind::boolean)
    return !number.is_point() ? "yes or no" : number.lo() != 0 ? "yes" : "no";
  if (type.kind == TypeKind::date && !number.is_empty() && number.lo() > -1e6 && number.hi < 1e7) {
    const std::string lo = date_text(static_cast<long>(number.lo()));
    return number.is_point() ? lo : lo + ".." + date_text(static_cast<long>(number.hi));
  }
  (void)scene;
  return number_text(number, unit);
}

}  // namespace

std::optional<CellHome> home_of(const Scene& scene, CellId cell) {
  const BuildIndex& index = *scene.results.index;
  if (!cell || cell.index >= index.build.cells.size()) return std::nullopt;
  const AttributeDef* def = index.attribute(cell);
  if (def == nullptr) return std::nullopt;
  const CellOwner owner = index.owner(cell);
  return CellHome{owner.entity, owner.attribute, def, index.part_with(cell)};
}

bool same_value(const Scene& scene, CellId a, CellId b) {
  if (a == b) return true;
  const auto one = home_of(scene, a), other = home_of(scene, b);
  return one && other && one->entity == other->entity && one->attribute == other->attribute &&
         one->part == other->part;
}

std::string_view grade_word(Grade grade) {
  switch (grade) {
    case Grade::measured:
      return "measured";
    case Grade::tried:
      return "tried";
    case Grade::published:
      return "published";
    case Grade::claimed:
      return "claimed";
    case Grade::unstated:
      return "unstated";
    case Grade::hearsay:
      return "hearsay";
  }
  return "";
}

const Given* given_of(const Scene& scene, CellId cell) {
  if (!cell || cell.index >= scene.build.cells.size()) return nullptr;
  const GivenId given = scene.build.cells[cell].given;
  return given ? &scene.build.givens[given] : nullptr;
}

namespace {

const Evidence* evidence_of(const Scene& scene, const Given& given) {
  return given.evidence ? &scene.tree.evidence[given.evidence] : nullptr;
}

/// Without its evidence.
std::string value_written(const Scene& scene, const Given& given) {
  Span span = given.value_span();
  const Evidence* evidence = evidence_of(scene, given);
  if (evidence != nullptr && evidence->span.begin > span.begin && evidence->span.file == span.file)
    span.end = std::min(span.end, evidence->span.begin);
  return printable(squeezed(scene.sources.text(span)));
}

}  // namespace

std::optional<Grade> weakest_grade(const Scene& scene, const Given& given) {
  std::optional<Grade> out;
  each_statement(scene, given, [&](const Given& each) {
    if (const Evidence* evidence = evidence_of(scene, each); evidence != nullptr)
      out = out ? std::max(*out, evidence->grade) : evidence->grade;
  });
  return out;
}

std::string as_written(const Scene& scene, CellId cell) {
  const Given* given = given_of(scene, cell);
  if (given == nullptr) return "not given";
  std::string out;
  std::size_t told = 0;
  each_statement(scene, *given, [&](const Given& each) {
    out += (told == 0 ? "" : told == 1 ? ", but also " : " and ") + value_written(scene, each);
    ++told;
  });
  return out == "?" ? "not known yet (?)" : out;
}

Unit shown_unit(const Scene& scene, const AttributeDef& def, const Given* given) {
  if (given != nullptr && given->unit) return *given->unit;
  return unit_of(def, scene.model().units, scene.names);
}

std::optional<Unit> unit_for(const std::optional<Unit>& unit, const Dimension& dimension, bool difference) {
  if (unit && unit->tells(dimension, difference)) return unit;
  return std::nullopt;
}

std::string cell_value_text(const Scene& scene, const CellHome& owner, CellId cell,
                            const std::optional<Unit>& unit, int digits) {
  const Cell& c = scene.build.cells[cell];
  const Given* given = given_of(scene, cell);
  const AttributeDef& def = *owner.def;
  if (def.type.is_number()) {
    const Unit in = unit ? *unit : shown_unit(scene, def, given);
    if ((c.flags & cell_missing) == 0 && given != nullptr && !given->also &&
        def.type.kind == TypeKind::quantity && !given->exact.empty)
      return number_text(given->exact, in, false, digits);
    if (def.type.kind == TypeKind::count && given != nullptr && given->exact.is_point() &&
        given->exact.lo_value.is_whole())
      return decimal_text(given->exact.lo_value);
    return plain_number(scene, def.type, c.number, in);
  }
  if (c.symbols()) return set_text(scene, scene.model().sets[c.symbols()], def.type.kind);
  return as_written(scene, cell);
}

std::string squeezed(std::string_view text) {
  std::string out;
  bool quoted = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (c == '"' && (i == 0 || text[i - 1] != '\\')) quoted = !quoted;
    if (c == '#' && !quoted) {
      while (i < text.size() && text[i] != '\n') ++i;
      continue;
    }
    const bool space = c == ' ' || c == '\t' || c == '\n' || c == '\r';
    if (!space)
      out += c;
    else if (!out.empty() && out.back() != ' ')
      out += ' ';
  }
  while (!out.empty() && out.back() == ' ') out.pop_back();
  return out;
}

std::string converted_text(const Scene& scene, const CellHome& owner, CellId cell,
                           const std::optional<Unit>& wanted, int digits) {
  const Type& type = owner.def->type;
  const std::optional<Unit> unit = unit_for(wanted, type.dimension, type.is_difference());
  const Given* given = given_of(scene, cell);
  if (given == nullptr || type.kind != TypeKind::quantity) return {};
  const bool other =
      unit && given->unit && (unit->factor != given->unit->factor || unit->offset != given->unit->offset);
  const bool widened = (scene.build.cells[cell].flags & (cell_default_spread | cell_disputed)) != 0;
  if (!other && !widened) return {};
  const std::string value = cell_value_text(scene, owner, cell, unit, digits);
  return value == as_written(scene, cell) ? std::string() : value;
}

std::string attribute_name(const Scene& scene, const CellHome& owner, bool with_place) {
  const Entity& e = scene.build.entities[owner.entity];
  const Instance& instance = scene.build.instances[e.instance];
  std::string out = scene.text(instance.fit_name);
  if (with_place && instance.place) out += "." + scene.text(instance.place);
  if (e.face != no_reg) out += "." + scene.text(scene.model().kinds[instance.kind].faces[e.face].name);
  return out + "." + scene.text(owner.def->name);
}

std::string evidence_text(const Scene& scene, CellId cell) {
  const Given* given = given_of(scene, cell);
  if (given == nullptr) return {};
  std::string out;
  if (const Evidence* evidence = evidence_of(scene, *given)) {
    out = grade_word(evidence->grade);
    if (evidence->note) out += " \"" + printable(scene.tree.texts[evidence->note].text) + "\"";
  }
  const std::uint8_t flags = scene.build.cells[cell].flags;
  if ((flags & cell_default_spread) != 0) out += out.empty() ? "usual spread added" : ", usual spread added";
  if ((flags & cell_disputed) != 0) out += out.empty() ? "sources differ" : ", sources differ";
  return out;
}

std::string evidence_words(const Scene& scene, CellId cell) {
  const Given* given = given_of(scene, cell);
  if (given == nullptr) return {};
  const auto weakest = weakest_grade(scene, *given);
  if (!weakest || *weakest < Grade::claimed) return {};
  return " (" + std::string(grade_word(*weakest)) + ")";
}

std::string set_text(const Scene& scene, const SymbolicSet& set, TypeKind kind) {
  if (set.all) return "anything";
  std::vector<std::string> items;
  for (const std::uint32_t member : set.members) {
    if (items.size() == 12) {
      items.push_back("...");
      break;
    }
    if (kind == TypeKind::designation)
      items.push_back("\"" + printable(scene.model().designation_consts[DesignationConstId{member}].text) +
                      "\"");
    else
      items.push_back(scene.text(Symbol{member}));
  }
  return items.empty() ? "nothing" : listed(items, " or ");
}

}  // namespace mm

// Values as the builder wrote them, with place, evidence and the converted amount.
#pragma once
#include <optional>
#include <string>

#include "report/numbers.hpp"
#include "report/scene.hpp"

namespace mm {

/// A cell with what it belongs to.
struct CellHome {
  EntityId entity;  // the part, or a face of it
  std::uint32_t attribute = 0;
  const AttributeDef* def = nullptr;
  std::uint32_t part = 0;  // index into Build::parts of the version that the cell belongs to
};

/// None for no cell, and for one that is of no attribute.
std::optional<CellHome> home_of(const Scene& scene, CellId cell);
/// Of one part, whatever work is planned on it.
bool same_value(const Scene& scene, CellId a, CellId b);

std::string_view grade_word(Grade grade);

const Given* given_of(const Scene& scene, CellId cell);

/// The statement, and those that dispute it.
template <class Use>
void each_statement(const Scene& scene, const Given& given, Use use) {
  for (const Given* each = &given; each != nullptr;
       each = each->also ? &scene.build.givens[each->also] : nullptr)
    use(*each);
}

/// Of all that is said of a value how it is known, the weakest; none where none says it.
std::optional<Grade> weakest_grade(const Scene& scene, const Given& given);

/// "4.5 in", "35 mm +- 2 mm", "?": the source text of the value without its evidence; "not given" without
/// one.
std::string as_written(const Scene& scene, CellId cell);

/// The unit to show a cell in: as written, else as declared, else usual.
Unit shown_unit(const Scene& scene, const AttributeDef& def, const Given* given);

/// The unit where it can tell what has this dimension; a reading of a thermometer in no unit for differences.
std::optional<Unit> unit_for(const std::optional<Unit>& unit, const Dimension& dimension, bool difference);

/// The cell's number (or set) in `unit` where given, in plain words for other types.
std::string cell_value_text(const Scene& scene, const CellHome& owner, CellId cell,
                            const std::optional<Unit>& unit = std::nullopt, int digits = usual_digits);

/// The cell in `unit` (none, or one that does not suit it: its own), only where that says more than what is
/// written: another unit, or a spread that was added. "" otherwise.
std::string converted_text(const Scene& scene, const CellHome& owner, CellId cell,
                           const std::optional<Unit>& unit, int digits = usual_digits);

/// Source text on one line: runs of white space as one blank, comments left out.
std::string squeezed(std::string_view text);

/// "wheel.mount.circle" without place where `with_place` is false.
std::string attribute_name(const Scene& scene, const CellHome& owner, bool with_place = false);

/// "(claimed \"seller, 12 March\"; default spread)": evidence in brackets, or "" where none was stated.
std::string evidence_text(const Scene& scene, CellId cell);

/// " (claimed)", " (hearsay)": the grade alone where it is weak; "" else.
std::string evidence_words(const Scene& scene, CellId cell);

/// Members of a set: "cone_60", "cone_60 or ball", "anything".
std::string set_text(const Scene& scene, const SymbolicSet& set, TypeKind kind);

}  // namespace mm

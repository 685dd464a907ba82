#include "model/cell_note.hpp"

#include <algorithm>

namespace mm {

namespace {

static_assert(sizeof(CellNote) == 2);

bool is_single(const Model& model, const Cell& cell) {
  if (!cell.symbols()) return false;
  const SymbolicSet& set = model.sets[cell.symbols()];
  return !set.all && set.members.size() == 1;
}

}  // namespace

bool ends_are_whole(const ExactInterval& range) {
  return range.empty || ((range.lo_infinite || range.lo_value.is_whole()) &&
                         (range.hi_infinite || range.hi_value.is_whole()));
}

ExactInterval exact_range(const Build& build, const Cell& cell, const AttributeDef& attribute) {
  ExactInterval range;
  if (is_given(cell)) {
    range = build.givens[cell.given].exact;
    for (GivenId also = build.givens[cell.given].also; also; also = build.givens[also].also)
      range = hull(range, build.givens[also].exact);
  } else if (attribute.range) {
    range = *attribute.range;
  } else {
    range = cell.number == Interval::entire() ? ExactInterval::entire() : ExactInterval::from(cell.number);
  }
  if ((cell.flags & cell_integer) == 0 || ends_are_whole(range)) return range;
  if (!range.lo_infinite) range.lo_value = ceil(range.lo_value);
  if (!range.hi_infinite) range.hi_value = floor(range.hi_value);
  return range;
}

CellNote note_of(const Model& model, const Build& build, const Cell& cell, const AttributeDef& attribute) {
  CellNote note;
  note.number = attribute.type.is_number();
  note.default_spread = (cell.flags & cell_default_spread) != 0;
  note.disputed = (cell.flags & cell_disputed) != 0;
  note.stated = is_given(cell);
  for (GivenId at = cell.given; at; at = build.givens[at].also) {
    note.default_spread = note.default_spread || build.givens[at].default_spread;
    if (note.stated) note.grade = std::max(note.grade, build.givens[at].grade);
  }
  if (!note.number) {
    note.single = is_single(model, cell);
    return note;
  }
  if (note.stated) {
    const Given& given = build.givens[cell.given];
    note.as_given = !given.also && ((cell.flags & cell_integer) == 0 || ends_are_whole(given.exact));
    if (note.as_given) {
      note.single = given.exact.is_point();
      return note;
    }
  }
  // the rest would be the same, but takes more steps
  if (!note.stated && !attribute.range && (cell.flags & cell_integer) == 0)
    note.single = cell.number.is_point();
  else if (!note.stated && attribute.range && (cell.flags & cell_integer) == 0)
    note.single = attribute.range->is_point();
  else
    note.single = exact_range(build, cell, attribute).is_point();
  return note;
}

}  // namespace mm

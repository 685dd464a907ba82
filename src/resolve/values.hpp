// Values as written, read against an attribute.
#pragma once
#include "resolve/types.hpp"

namespace mm {

struct ReadValue {
  Cell cell;
  Given given;
  bool good = false;  // false after an error
};

/// A price is money of whatever currency.
ReadValue read_value(Context& context, ValueId id, const AttributeDef& attribute, Span assignment);

/// The cell of an attribute that nobody gave.
Cell missing_cell(Context& context, const AttributeDef& attribute);

/// A cell of a table or another constant: no spread of grades, no missing attribute.
std::optional<ConstValue> read_constant(Context& context, ValueId id, const AttributeDef& column,
                                        bool key_range);

/// Both values of a disputed attribute: the hull of what they allow.
void merge_disputed(Context& context, Cell& cell, const Cell& other);

}  // namespace mm

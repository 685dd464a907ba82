// The tree, first part: names, numbers as written, and the values of parts.
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "base/boxed.hpp"
#include "base/ids.hpp"
#include "base/names.hpp"
#include "base/runs.hpp"
#include "text/source.hpp"

namespace mm {

struct ExprTag;
struct ValueTag;
using ExprId = Id<ExprTag>;
using ValueId = Id<ValueTag>;

struct Name {
  Symbol symbol;
  Span span;
};

/// front.hub.circle; the names lie in the tree
struct Path {
  Run<Name> names;
  Span span;
};

struct TextLiteral {
  std::string text;  // escapes resolved
  Span span;         // with the quotes
};

struct UnitFactorSyntax {
  Name name;
  int power = 1;  // signed: after '/' negative
};

/// A unit as written. No factors: none was written. "%" is stored as the name percent. The factors lie in the
/// tree, once for all places in a file where a value has this unit: the places of their names are those of
/// the first.
struct UnitSyntax {
  Run<UnitFactorSyntax> factors;
  Span span;
  bool empty() const { return factors.empty(); }
};

/// A number as written ("1 1/4", "-0.5"); read exactly by read_number where its value is wanted.
struct NumberSyntax {
  Span span;  // without sign
  bool negative = false;
};

struct QuantitySyntax {
  NumberSyntax number;
  UnitSyntax unit;
  Span span;
};

struct DateSyntax {
  int year = 0, month = 0, day = 0;
  Span span;
};

enum class Grade : std::uint8_t { measured, tried, published, claimed, unstated, hearsay };  // strong to weak

struct Evidence {
  Grade grade = Grade::unstated;
  std::optional<TextLiteral> note;
  Span span;
};

struct UnknownValue {};  // ?
struct QuantityValue {
  QuantitySyntax quantity;
  Boxed<QuantitySyntax> plus, minus;  // "+- t" has no minus; an empty unit means the quantity's own
  bool symmetric = false;             // written with +- or ±
};
struct RangeValue {
  Boxed<QuantitySyntax> lo, hi;  // >= x has no hi; <= x no lo; lo may lack a unit in 1..2 mm
};
struct WordsValue {
  std::vector<Name> words;  // choice, yes, no, or a list
};
struct TextValue {
  TextLiteral text;  // text or a designation
};
struct DateValue {
  DateSyntax date;
};
struct AdjustableValue {
  Boxed<RangeValue> range;
  Boxed<QuantitySyntax> step;
  struct Piece {
    QuantitySyntax count;  // bare number
    QuantitySyntax size;
  };
  std::vector<Piece> sums;
  std::vector<QuantitySyntax> one_of;
};

struct Value {
  std::variant<UnknownValue, QuantityValue, RangeValue, WordsValue, TextValue, DateValue, AdjustableValue>
      form;
  Boxed<Evidence> evidence;
  Span span;
};

/// circle 108 mm   or   mount { circle 108 mm }: the block form is flattened, path = mount.circle.
struct Assignment {
  Path path;
  ValueId value;
  std::uint32_t outer = 0;  // how many leading names came from enclosing blocks (layout only)
  Span span;
};

}  // namespace mm

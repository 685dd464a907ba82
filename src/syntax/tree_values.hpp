// The tree, first part: names, numbers as written, and the values of parts. A catalogue has a hundred
// thousand sheets, so what a sheet holds lies in flat stores of the tree, as small nodes that name each other
// by id.
#pragma once
#include <cstdint>
#include <optional>
#include <string_view>
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
struct QuantitySyntaxTag;
struct WordTag;
struct TextTag;
struct EvidenceTag;
struct UnitTag;
struct PathTag;
struct FaceBlockTag;
struct AssignmentTag;
struct BinderTag;
using ExprId = Id<ExprTag>;
using ValueId = Id<ValueTag>;
using QuantityId = Id<QuantitySyntaxTag>;
using WordId = Id<WordTag>;
using TextId = Id<TextTag>;
using EvidenceId = Id<EvidenceTag>;
using UnitId = Id<UnitTag>;  // a unit as written: equal text, equal id
using PathId = Id<PathTag>;
using FaceBlockId = Id<FaceBlockTag>;
using AssignmentId = Id<AssignmentTag>;
using BinderId = Id<BinderTag>;

struct Name {
  Symbol symbol;
  Span span;
};

/// front.hub.circle; the names lie in the tree
struct Path {
  Run<Name> names;
  Span span;
};

/// The text lies in its file, or in the tree where it has escapes.
struct TextLiteral {
  std::string_view text;  // escapes resolved
  Span span;              // with the quotes
};

struct UnitFactorSyntax {
  Symbol name;
  int power = 1;  // signed: after '/' negative
};

/// A unit where it stands. "%" has the one factor percent.
struct UnitSyntax {
  UnitId id;  // none: none was written
  Span span;
  bool empty() const { return id.is_none(); }
};

/// A number as written ("1 1/4", "-0.5"); read exactly by read_number where its value is wanted.
struct NumberSyntax {
  Span span;  // without sign
  bool negative = false;
};

/// A number with the unit behind it, in one file. In 12..24 mm the lower end is lent the unit of the upper
/// one.
struct QuantitySyntax {
  FileId file;
  std::uint32_t begin = 0, end = 0;
  std::uint32_t number_begin = 0, number_end = 0;  // without sign
  UnitId unit;
  std::uint32_t unit_begin = 0;

  Span span() const { return {file, begin, end}; }
  NumberSyntax number() const { return {{file, number_begin, number_end}, begin != number_begin}; }
  bool negative() const { return begin != number_begin; }
  bool has_unit() const { return !unit.is_none(); }
  bool has_own_unit() const { return has_unit() && unit_begin < end; }
};

struct Date {
  std::int16_t year = 0;
  std::uint8_t month = 0, day = 0;
  bool operator==(const Date&) const = default;
};
struct DateSyntax {
  Date date;
  Span span;
};
inline constexpr std::uint32_t date_length = 10;  // 2026-03-14

enum class Grade : std::uint8_t { measured, tried, published, claimed, unstated, hearsay };  // strong to weak

struct Evidence {
  Grade grade = Grade::unstated;
  TextId note;  // none where absent
  Span span;
};

struct UnknownValue {};  // ?
enum class Spread : std::uint8_t { none, symmetric, limits };
struct QuantityValue {
  QuantityId
      quantity;  // the amounts of its spread stand behind it; without a unit they have the quantity's own
  Spread spread = Spread::none;  // 4 mm   4 mm +- 0.1 mm   4 mm +0.1 -0
  QuantityId plus() const { return spread == Spread::none ? QuantityId::none() : after(1); }
  QuantityId minus() const { return spread != Spread::limits ? QuantityId::none() : after(2); }

 private:
  QuantityId after(std::uint32_t n) const { return QuantityId{quantity.index + n}; }
};
struct RangeValue {
  QuantityId lo, hi;  // >= x has no hi; <= x no lo; lo may lack a unit in 1..2 mm
};
struct WordsValue {
  IdRange<WordId> words;  // choice, yes, no, or a list
};
struct TextValue {
  TextId text;  // text or a designation
};
struct DateValue {
  Date date;  // at the beginning of the value
};
struct AdjustableValue {
  enum class Form : std::uint8_t { range, stepped_range, sums, one_of };
  IdRange<QuantityId> quantities;  // lo hi   lo hi step   count size, count size ...   setting, setting ...
  Form form = Form::range;
};

struct Value {
  std::variant<UnknownValue, QuantityValue, RangeValue, WordsValue, TextValue, DateValue, AdjustableValue>
      form;
  EvidenceId evidence;  // none where absent
  Span span;
};

/// circle 108 mm   or   mount { circle 108 mm }: the block form is flattened, path = mount.circle.
struct Assignment {
  PathId path;              // all of it
  std::uint32_t begin = 0;  // of the part of the path that stands before the value
  FaceBlockId block;        // which has the rest of the path; none where the whole path stands here
  ValueId value;
};

/// The head of `mount { ... }` in a sheet, for places and layout.
struct FaceBlock {
  PathId path;
  std::uint32_t begin = 0;
  FaceBlockId outer;
};

}  // namespace mm

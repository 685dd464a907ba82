// Types of attributes and expressions.
#pragma once
#include <limits>

#include "base/ids.hpp"
#include "base/names.hpp"
#include "units/dimension.hpp"

namespace mm {

struct KindTag;
struct InterfaceTag;
struct DesignationTag;
struct TableTag;
struct RequirementTag;
struct EntityTag;
struct SymbolicSetTag;
struct NumberTag;
struct CellTag;
struct DesignationConstTag;
using KindId = Id<KindTag>;
using InterfaceId = Id<InterfaceTag>;
using DesignationId = Id<DesignationTag>;
using TableId = Id<TableTag>;
using RequirementId = Id<RequirementTag>;
using EntityId = Id<EntityTag>;            // a part instance or one of its faces, in one build
using SymbolicSetId = Id<SymbolicSetTag>;  // a set of words, texts, places or designations
using NumberId = Id<NumberTag>;            // an exact constant
using CellId = Id<CellTag>;                // one attribute of one version of one entity
using DesignationConstId = Id<DesignationConstTag>;

/// quantity, count, boolean and date are numbers when evaluated (date: days since 1970-01-01; boolean: 0 or
/// 1); choice, text, designation and place are members of a symbolic set; part and face are entities.
enum class TypeKind : std::uint8_t {
  error,
  quantity,
  count,
  boolean,
  date,
  choice,
  text,
  designation,
  place,
  part,
  face,
  many_side
};

constexpr bool is_number_kind(TypeKind kind) {
  return kind == TypeKind::quantity || kind == TypeKind::count || kind == TypeKind::boolean ||
         kind == TypeKind::date;
}

inline constexpr float unknown_readings = std::numeric_limits<float>::quiet_NaN();

struct Type {
  TypeKind kind = TypeKind::error;
  Dimension dimension;        // quantity
  SymbolicSetId choices;      // choice: its declared members; none for a bare word
  DesignationId designation;  // designation
  KindId part_kind;           // part: none means any kind
  InterfaceId interface;      // face, many_side
  std::uint32_t side = 0;     // face, many_side
  bool nominal = false;       // exact by definition: '=' makes sense
  float readings = 1;         // a temperature: readings of a thermometer summed in it; 0: a difference

  /// A temperature counted from no zero point: degC and degF are told without their offset.
  bool is_difference() const { return readings != 1; }

  bool is_number() const { return is_number_kind(kind); }
  /// A number without a dimension.
  bool is_plain() const {
    return kind == TypeKind::count || (kind == TypeKind::quantity && dimension.is_ratio());
  }
  bool is_symbolic() const {
    return kind == TypeKind::choice || kind == TypeKind::text || kind == TypeKind::designation ||
           kind == TypeKind::place;
  }
  bool is_entity() const { return kind == TypeKind::part || kind == TypeKind::face; }
};

}  // namespace mm

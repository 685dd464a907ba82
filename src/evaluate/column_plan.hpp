// A requirement's test as operations on whole columns: one value a joint (or match), many joints at once.
// Only tests of a plain shape have one: attributes of what is joined, arithmetic, a sum over a many side,
// comparisons. Everything else is for the machine (machine.hpp).
#pragma once
#include <optional>
#include <vector>

#include "model/model.hpp"

namespace mm {

/// Where a column's values come from: an attribute of what is bound to a slot, of its part or of a face of
/// it, or of every item of a many side; perhaps a field of that attribute's designation.
struct ColumnSource {
  enum class Way : std::uint8_t { own, part, face, items };
  std::uint32_t slot = 0;  // items: index into Binding::lists
  Way way = Way::own;
  std::uint32_t face = no_reg;
  std::uint32_t attribute = 0;
  std::uint32_t field = no_reg;
  TypeKind kind = TypeKind::error;  // of the value; of the attribute where a field is taken

  bool operator==(const ColumnSource& other) const = default;
  bool is_number() const;
};

struct ColumnOp {
  OpCode code =
      OpCode::number;        // number, symbolic, attribute (a load), arithmetic, comparison, logic, sum ...
  std::uint32_t target = 0;  // columns of the plan
  std::uint32_t a = no_reg, b = no_reg;
  std::uint32_t payload = 0;  // number: NumberId; symbolic: its member; attribute: index into sources
};

struct ColumnPlan {
  std::vector<ColumnSource> sources;  // in order of first use
  std::vector<ColumnOp> ops;          // the last one gives the answer
  std::uint32_t columns = 0;
  /// Every source is read once and none can be the same cell as another: plain interval bounds are then the
  /// true bounds, but for rounding.
  bool each_once = true;
  /// No roots: exact arithmetic has no rounding at all.
  bool rational = true;
  /// No `and`, `or`, `not`: one comparison is the whole test.
  bool single = true;

  /// None where the block needs the machine.
  static std::optional<ColumnPlan> of(const Model& model, const Program& program, BlockIndex block);
};

}  // namespace mm

// Requirements as flat programs: operations in order, each result in a register of its own; no tree is walked
// when a requirement is evaluated. One program serves every joint or match of its requirement.
#pragma once
#include <algorithm>
#include <vector>

#include "interval/exact_interval.hpp"
#include "model/types.hpp"
#include "syntax/tree.hpp"
#include "units/unit_table.hpp"

namespace mm {

using Reg = std::uint32_t;
inline constexpr Reg no_reg = 0xffffffffU;
using BlockIndex = std::uint32_t;
inline constexpr BlockIndex no_block = 0xffffffffU;

enum class OpCode : std::uint8_t {
  // constants
  number,    // payload: NumberId
  truth,     // payload: 0 or 1
  symbolic,  // payload: SymbolicSetId
  // entities
  local,         // payload: local slot -> entity
  local_number,  // payload: local slot of a continuous quantifier -> number
  mate,          // a: face -> the face joined to it; undefined when open
  part_of,       // a: face -> its part
  face_of,       // a: part; payload: index of the face in its kind -> face
  attribute,     // a: entity; payload: attribute index in the entity's schema -> number or symbolic
  field,    // a: designation; payload: field index -> number or symbolic; undefined when its form lacks it
  form_is,  // a: designation; payload: index of a form -> truth
  // numbers; sin cos tan take turns, asin acos atan give turns; payload of div (of b), pow, sqrt and ln: what
  // guards leave of that operand
  add,
  sub,
  mul,
  div,
  pow,
  neg,
  abs,
  min,
  max,
  sqrt,
  sin,
  cos,
  tan,
  asin,
  acos,
  atan,
  exp,
  ln,
  floor,
  ceil,
  round,
  // truth; dates, counts and booleans compare as numbers
  lt,
  le,
  eq,    // a, b numbers
  same,  // a, b symbolic
  logical_and,
  logical_or,
  logical_not,
  choose,    // a: truth, b: then, c: else; b and c of one type
  lookup,    // payload: index into Program::lookups -> number or symbolic
  in_table,  // payload: index into Program::lookups -> truth
  // quantifiers; payload: index into Program::quantifiers
  every_entity,
  some_entity,
  count_entities,
  sum_entities,
  min_entities,
  max_entities,
  every_number,
  some_number
};

/// Of two numbers.
constexpr bool is_comparison(OpCode code) {
  return code == OpCode::lt || code == OpCode::le || code == OpCode::eq;
}

/// What becomes a whole number.
constexpr bool is_rounding(OpCode code) {
  return code == OpCode::floor || code == OpCode::ceil || code == OpCode::round;
}

/// A quantifier: over parts or faces, or over a range of numbers.
constexpr bool is_over_entities(OpCode code) {
  return code >= OpCode::every_entity && code <= OpCode::max_entities;
}
constexpr bool is_over_range(OpCode code) {
  return code == OpCode::every_number || code == OpCode::some_number;
}
constexpr bool is_quantifier(OpCode code) { return is_over_entities(code) || is_over_range(code); }

/// A set. What an operand is wherever the result is asked for: an `if`, `when` or the like before it sees to
/// the rest.
using Guarded = std::uint32_t;
inline constexpr Guarded never_zero = 1, never_negative = 2, never_positive = 4;

struct Op {
  OpCode code;
  TypeKind result = TypeKind::error;  // kind of what the register holds
  Reg target = no_reg;
  Reg a = no_reg, b = no_reg, c = no_reg;
  std::uint32_t payload = 0;
  ExprId origin;   // the expression this stands for; none for inner steps of sugar
  ExprId used_as;  // the name or call in the requirement through which a let or a formula was reached
};

/// Ops run in order. Registers are numbered over the whole program: an inner block reads its enclosing
/// blocks' registers.
struct Block {
  std::vector<Op> ops;
  Reg result = no_reg;
};

struct LookupCondition {
  std::uint32_t column = 0;
  BinaryOp op = BinaryOp::eq;  // eq lt le gt ge: cell OP... read as "column op value"
  Reg value = no_reg;
};

/// First row in table order that meets the conditions; where all are eq, any of the rows that do.
struct Lookup {
  TableId table;
  std::vector<LookupCondition> conditions;
  std::uint32_t column = 0;  // result; not for in_table

  bool takes_first() const {
    return std::any_of(conditions.begin(), conditions.end(),
                       [](const LookupCondition& one) { return one.op != BinaryOp::eq; });
  }
};

/// Whether both ask a table the same; `same(a, b)` for the registers of both.
template <class Same>
bool asks_the_same(const Lookup& a, const Lookup& b, Same same) {
  const auto alike = [&](const LookupCondition& x, const LookupCondition& y) {
    return x.column == y.column && x.op == y.op && same(x.value, y.value);
  };
  return a.table == b.table && a.column == b.column &&
         std::equal(a.conditions.begin(), a.conditions.end(), b.conditions.begin(), b.conditions.end(),
                    alike);
}

struct Quantifier {
  // entities: all instances of `kind` (none: of any kind), or the faces of a many side
  KindId kind;
  std::uint32_t many_slot = no_reg;        // != no_reg: index into Binding::lists
  Reg reach_from = no_reg;                 // narrowed to parts reachable from this entity ...
  std::vector<InterfaceId> reach_through;  // ... through joints of these interfaces
  // numbers
  Reg lo = no_reg, hi = no_reg;
  Symbol name;                  // of what goes over them
  const Unit* unit = nullptr;   // in which an end is written, if in one
  std::uint32_t slot = 0;       // local slot that is bound
  BlockIndex where = no_block;  // truth
  BlockIndex body = no_block;   // truth (every, some) or number (sum, min, max)
  bool once_a_sheet = false;    // a sum of how many pieces there are: see evaluate/counted_sheets.hpp
};

/// A number that is anything in its range, read by its slot.
struct FreeNumber {
  std::uint32_t slot = 0;
  ExactInterval range;
};

struct Program {
  std::vector<Block> blocks;
  std::vector<Lookup> lookups;
  std::vector<Quantifier> quantifiers;
  std::uint32_t registers = 0;
  std::vector<Type> types;               // by register
  std::uint32_t slots = 0;               // locals needed, bound ones first
  std::vector<FreeNumber> free_numbers;  // of a claim written out; of a rule's none
};

/// What both sides of a comparison measure.
struct Measure {
  Dimension dimension;
  bool in_days = false;  // they are dates
  bool is_same(const Measure& other) const {
    return in_days == other.in_days && compatible(dimension, other.dimension);
  }
};

/// Of one of numbers.
inline Measure measure_of(const Program& program, const Op& comparison) {
  const Type& left = program.types[comparison.a];
  const Type& one = left.kind == TypeKind::quantity ? left : program.types[comparison.b];
  return {one.dimension, left.kind == TypeKind::date};
}

}  // namespace mm

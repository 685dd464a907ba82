// The reason tree of one verdict, made again on request: the checker itself records nothing.
#pragma once
#include "evaluate/results.hpp"

namespace mm {

enum class Truth : std::uint8_t { no, yes, maybe };

struct TraceNode {
  OpCode code;
  TypeKind kind = TypeKind::error;
  ExprId expr;               // where it stands in the text; none for a step that sugar adds
  ExprId used_as;            // Op::used_as
  bool undefined = false;    // on part or all of the box
  Interval number;           // numbers
  Dimension dimension;       // of a number, where known from the expression
  Truth truth = Truth::maybe;
  SymbolicSet symbols;
  EntityId entity;           // entity ops, and the owner for `attribute`
  std::uint32_t attribute = 0;
  CellId cell;               // attribute: the value that was read
  std::uint32_t table = no_reg, row = no_reg;  // lookup: the row that was used, if one
  std::string label;         // quantifier items: "wheel.front_left", "z = 0.15..0.30"
  std::vector<TraceNode> children;
};

/// Tree of case `case_index` of a finding; quantifiers list their items (at most 40, then a count in `label`).
TraceNode trace(const Project& project, const Build& build, const Names& names, const Finding& finding,
                std::size_t case_index);

/// The finding's remedy or because, with values put in as text in the units as written.
std::string fill_template(const Project& project, const Build& build, const Names& names, const Finding& finding,
                          std::size_t case_index, const Template& text);

}  // namespace mm

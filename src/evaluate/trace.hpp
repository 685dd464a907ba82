// The reason tree of one verdict, made again on request: the checker itself records nothing.
#pragma once
#include <memory>

#include "evaluate/results.hpp"

namespace mm {

enum class Truth : std::uint8_t { no, yes, maybe };

struct TraceStep {
  OpCode code = OpCode::truth;
  TypeKind kind = TypeKind::error;
  ExprId expr;                 // where it stands in the text; none for a step that sugar adds
  ExprId used_as;              // Op::used_as
  bool undefined = false;      // on part or all of the box
  Interval number;             // numbers
  Dimension dimension;         // of a number, where known from the expression
  bool is_difference = false;  // Type::is_difference
  Truth truth = Truth::maybe;
  SymbolicSet symbols;
  EntityId entity;  // entity ops, and the owner for `attribute`
  std::uint32_t attribute = 0;
  CellId cell;                                 // attribute: the value that was read
  std::uint32_t table = no_reg, row = no_reg;  // lookup: the row that was used, if one
  std::string label;                           // quantifier items: "wheel.front_left", "at 0.15..0.30"
};

struct TraceNode : TraceStep {
  std::vector<TraceNode> children;
};

/// Makes reasons for the findings of one build. Make it once, ask often; `names` must outlive it.
class Tracer {
 public:
  Tracer(const Results& results, const Names& names);
  ~Tracer();
  Tracer(const Tracer&) = delete;
  Tracer& operator=(const Tracer&) = delete;

  /// Tree of the test in case `case_index`; quantifiers list their items (at most 40, then a count in
  /// `label`). With a rule's `where` or a `when` that is not surely true, the root is a logical_or whose
  /// children are those (labelled "where", "when") and, last, the test.
  TraceNode trace(const Finding& finding, std::size_t case_index);
  struct Filled {
    std::string text;
    std::vector<CellId> missing;  // nobody has given them, and "?" stands for what hangs on them
  };
  /// The finding's remedy or because, with values put in as text in the units as written.
  Filled fill(const Finding& finding, std::size_t case_index, const Template& text);

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace mm

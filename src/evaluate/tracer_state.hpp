// What a Tracer keeps between questions.
#pragma once
#include "evaluate/cases.hpp"
#include "evaluate/corner_ranges.hpp"
#include "evaluate/trace.hpp"

namespace mm {

struct Tracer::State {
  State(std::shared_ptr<const BuildIndex> of_build, const Names& all_names)
      : build_index(std::move(of_build)),
        model(build_index->model),
        names(all_names),
        designations(model),
        bench(*build_index, designations) {}

  Claim claim(const Finding& finding) const;
  void enter(const Finding& finding, std::size_t case_index);
  TraceNode tree(const Claim::Part& part, const Binding& binding);
  void node(const Program& program, const Op& op, std::vector<TraceNode>& nodes);
  void value(const Program& program, const Op& op, TraceNode& out);
  Interval number(const Op& op);
  void adopt(TraceNode& parent, const TraceNode& child);
  void block(const Program& program, BlockIndex index, std::vector<TraceNode>& nodes);
  void items(const Program& program, const Op& op, std::vector<TraceNode>& nodes);
  void range_items(const Program& program, const Op& op, std::vector<TraceNode>& nodes);
  std::string text_of(const TextPiece& piece, const Finding& finding, const ExactInterval& number,
                      SafeEnd safe);
  ExactInterval number_of(const TextPiece& piece, const Program& program, const Binding& binding,
                          SafeEnd safe);
  std::vector<CellId> missing_in(const TextPiece& piece, const Finding& finding);

  std::shared_ptr<const BuildIndex> build_index;
  const Model& model;
  const Names& names;
  RoundUp rounding;
  Designations designations;
  Bench bench;
  std::size_t budget = 0;  // nodes that may still be copied into the tree
  std::size_t walked = 0;  // nodes made for it, most of which fit nowhere once the budget is used up
  std::vector<std::pair<Reg, ExactInterval>> corners;  // see corner_ranges.hpp
  bool met_rounding = false;  // a number is perhaps only the rounding of what it is made of
  bool runs_exactly = false;  // so the exact machine runs beside the quick one
};

/// Value in a unit that reads well for the dimension (`told_unit`). `difference`: of temperatures, for which
/// degC and degF do not do. `safe`: of a spread that end alone.
std::string quantity_text(const UnitTable& units, const Names& names, const ExactInterval& value,
                          const Dimension& dimension, const Unit* wanted, bool difference,
                          SafeEnd safe = SafeEnd::both);

}  // namespace mm

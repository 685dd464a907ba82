// One build while it is being made.
#pragma once
#include "resolve/sheets.hpp"

namespace mm {

struct BuildContext {
  Context& context;
  const BuildDecl& decl;
  Build build;
  std::unordered_map<Symbol, std::uint32_t> part_index;           // into build.parts
  std::unordered_map<Symbol, std::vector<std::uint32_t>> fitted;  // fit name -> instances, in order
  std::unordered_map<Symbol, Symbol> place_hand;
  std::vector<std::vector<Sheet>> sheets;  // by instance: as fitted, by candidate
  std::vector<std::vector<std::pair<std::uint32_t, const ReworkDecl*>>> planned;  // by instance
};

// build_fits.cpp
void add_parts(BuildContext& b);
void add_places(BuildContext& b);
void add_fits(BuildContext& b);
// build_joins.cpp
void add_joins(BuildContext& b);
// build_states.cpp
void add_reworks(BuildContext& b);
void make_cells(BuildContext& b);
void add_waivers(BuildContext& b);
void add_stages(BuildContext& b);
void add_expectations(BuildContext& b);

/// The instances that "wheel" or "wheel.front_left" names; empty after an error. `rest` gets the names that
/// follow.
std::vector<std::uint32_t> find_instances(BuildContext& b, const Path& path, std::vector<Name>* rest);

}  // namespace mm

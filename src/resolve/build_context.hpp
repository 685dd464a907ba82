// One build while it is being made.
#pragma once
#include <deque>
#include <span>
#include <unordered_set>

#include "resolve/sheets.hpp"

namespace mm {

struct BuildContext {
  Context& context;
  const BuildDecl& decl;
  Build build;
  SymbolMap<std::uint32_t> part_index;                         // into build.parts
  SymbolMap<std::vector<std::uint32_t>> fitted;                // fit name -> instances, in order
  std::unordered_map<std::uint64_t, std::uint32_t> fitted_at;  // key_at(fit name, place) -> instance
  std::unordered_map<Symbol, Symbol> place_hand;
  std::unordered_set<Symbol> parts_in_error;  // of a trial, by name
  std::unordered_set<Symbol>
      fits_in_error;  // names that are fitted, but a part or place of theirs is in error
  std::vector<std::uint32_t> part_of_model;  // by part: which of the model's, or no_reg
  std::vector<std::uint32_t> first_fit;      // by part: the first fit that takes it for sure, or no_reg
  std::vector<const FitDecl*> fit_decls;     // by fit
  std::deque<FitDecl> own_fits;              // of a trial's parts that no statement fits
  using ReworkOf = std::pair<std::uint32_t, const ReworkDecl*>;
  std::vector<std::vector<ReworkOf>> done, planned;  // by instance; empty where nothing is reworked
  bool places_are_asked = true;                      // a program reads where a part stands

  static std::uint64_t key_at(Symbol fit_name, Symbol place) {
    return std::uint64_t{fit_name.index} << 32U | place.index;
  }
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
/// follow. Stays while nothing more is fitted.
std::span<const std::uint32_t> find_instances(BuildContext& b, const Path& path, std::vector<Name>* rest);

/// Says that the build has no such place, and how it gets one; `listed`: the others of the list.
void unknown_place(BuildContext& b, const Name& place, std::span<const Name> listed);

}  // namespace mm

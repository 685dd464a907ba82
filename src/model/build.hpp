// One build (or trial) as a graph: instances and their faces are entities, joints connect faces, cells hold
// values.
#pragma once
#include <memory>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "base/seldom.hpp"
#include "model/model.hpp"

namespace mm {

struct GivenTag;
using GivenId = Id<GivenTag>;

/// How a value can be set: in steps (base units), or to the settings of a list; neither: anywhere in its
/// range.
struct Adjustment {
  std::optional<Rational> step;
  std::vector<Rational> settings;
};

/// Where a value came from. Several statements of one attribute (a dispute) chain through `also`.
struct Given {
  Span span;                      // the assignment, to the end of its value
  std::uint32_t value_begin = 0;  // where in it the value stands
  EvidenceId evidence;            // none: none was stated
  Grade grade = Grade::unstated;
  bool default_spread = false;                 // the attribute's default spread for the grade was applied
  bool from_fit = false;                       // overridden where the part is fitted
  bool of_pi = false;                          // both ends are multiples of one power of pi, that of the unit
  std::uint32_t rework = Id<int>::none_index;  // index of the rework that set it
  GivenId also;                                // next Given of a dispute
  ExactInterval exact;                         // numbers, base units, spread included
  const Unit* unit = nullptr;                  // as written, of the model; null: none was
  Boxed<Adjustment> adjustment;                // of adjustable values

  Span value_span() const { return {span.file, value_begin, span.end}; }
};

enum CellFlag : std::uint8_t {
  cell_missing = 1,  // not given, or "?": number is the declared range or entire; set is all or the choices
  cell_integer = 2,  // count, boolean, date
  cell_adjustable = 4,  // the builder sets it
  cell_disputed = 8,
  cell_default_spread = 16,
};

/// There may be millions, of 24 bytes.
class Cell {
 public:
  Interval number;  // numbers: hull of what is possible, base units
  GivenId given;
  std::uint32_t flags : 5 = 0;

  /// Of symbolic types.
  SymbolicSetId symbols() const { return set_ == no_set ? SymbolicSetId{} : SymbolicSetId{set_}; }
  void set_symbols(SymbolicSetId set) {
    if (set && set.index >= no_set) throw std::length_error("more than 134 million different sets of words");
    set_ = set ? set.index & no_set : no_set;
  }

 private:
  static constexpr std::uint32_t no_set = (1U << 27U) - 1;
  std::uint32_t set_ : 27 = no_set;
};

/// What is asked of a cell most often, in 2 bytes: a walk over millions opens neither the cell nor what it
/// was given.
struct CellNote {
  bool number : 1 = false;    // else a word, a size or a yes_no
  bool single : 1 = false;    // one value alone is possible
  bool as_given : 1 = false;  // its exact range is that of its one Given, whole numbers included
  bool fixed : 1 = false;     // no candidate and no planned work puts another value there, nor the builder
  bool stated : 1 = false;    // a value was given
  bool default_spread : 1 = false;  // of the cell or of a value given
  bool disputed : 1 = false;
  Grade grade = Grade::measured;  // the weakest of the values given
};

/// A part where it stands. Its versions say which candidate stands there and which of its reworks are
/// applied: number (candidate << reworks.size()) | mask, bit i of mask: reworks[i].
struct Instance {
  Symbol fit_name;
  Symbol place;  // none: only one
  KindId kind;
  std::uint32_t fit = 0;    // index into Build::fits
  IdRange<EntityId> faces;  // in the kind's order
  EntityId entity;
  Seldom<std::uint32_t> reworks;  // that change this instance
  CellId cells;                   // the sheet of the first version; those of the others follow
  std::uint32_t sheet_size = 0;
  std::uint32_t versions = 0;
  Span span;

  /// First cell of a version's sheet.
  CellId sheet(std::size_t version) const { return CellId{cells.index + version * sheet_size}; }
  std::size_t candidate(std::size_t version) const { return version >> reworks.size(); }
};

struct Entity {
  std::uint32_t instance = 0;
  std::uint32_t face = no_reg;   // index in the kind's faces; no_reg: the part itself
  std::uint32_t joint = no_reg;  // face: index into Build::joints
};

/// A `fit` statement. A slot has several candidates: one is chosen for all its places together.
struct Fit {
  Symbol name;
  std::vector<std::uint32_t> candidates;  // indices into Build::parts
  bool is_slot = false;
  Rational each = 1;
  std::vector<std::uint32_t> instances;
  Span span;
};

struct Joint {
  Symbol label;  // may be none
  InterfaceId interface;
  Symbol place;                              // of its first face's instance; may be none
  std::vector<std::vector<EntityId>> sides;  // by side of the interface
  Span span;
};

struct Rework {
  Symbol name;
  std::string doc, by;
  bool done = false;
  std::vector<std::uint32_t> instances;
  Span span;
};

struct Waiver {
  Symbol requirement;
  Symbol fit_name, place;  // on; none: everywhere
  std::string because, by, until;
  Span span;

  /// Its last day lies before `today`, "2026-03-14"; of "" none does.
  bool expired(std::string_view today) const { return !today.empty() && !until.empty() && until < today; }
};

struct Stage {
  Symbol name;
  std::string doc;
  std::vector<std::uint32_t> instances;
  Span span;
};

struct BuildPlace {
  Symbol name;
  Symbol hand;  // left, right or none
};

struct Expectation {
  enum class Word : std::uint8_t {
    fits,
    conflict,
    unknown,
    setting,
    choice,
    also,
    caution,
    not_applicable,
    pending,  // it fits after planned work
    that
  };
  Word word = Word::that;
  Symbol requirement;
  Symbol fit_name, place;
  RequirementId that;  // a requirement without variables
  Span span;
};

struct BuildPart {
  Symbol name;
  KindId kind;
  const PartDecl* decl = nullptr;
  Seldom<Symbol> hands;  // of its pieces, as listed, repeats kept; empty: not stated
  bool quantity_stated = false;
  bool own_file = false;  // declared beside the build: "left over" when not fitted
  Span span;
};

struct Build {
  Symbol name;  // none for a trial
  std::string title;
  bool is_trial = false;
  const BuildDecl* decl = nullptr;
  std::vector<BuildPart> parts;
  std::vector<BuildPlace> places;
  std::vector<Fit> fits;
  std::vector<Instance> instances;
  Store<Entity, EntityId> entities;
  BlockStore<Cell, CellId, 16> cells;
  std::vector<CellNote> notes;  // by cell
  BlockStore<Given, GivenId, 8> givens;
  std::vector<Joint> joints;
  std::vector<Rework> reworks;
  std::vector<Waiver> waivers;
  std::vector<Stage> stages;
  std::vector<Expectation> expectations;
  std::vector<std::uint32_t> left_over;  // parts in no fit, or fitted with no face joined: see findings

  /// Index into `parts`.
  std::uint32_t part_of(const Instance& instance, std::size_t version) const {
    return fits[instance.fit].candidates[instance.candidate(version)];
  }
};

/// All builds and trials of the files, over one model.
struct Project {
  Model model;
  std::vector<Build> builds;         // trials too, in file order
  std::shared_ptr<const void> held;  // what programs point into beside the model
};

/// "wheel.front_left", or "wheel.front_left.mount" for a face.
std::string entity_name(const Model& model, const Build& build, EntityId entity, const Names& names);
const Schema& schema_of(const Model& model, const Build& build, EntityId entity);

}  // namespace mm

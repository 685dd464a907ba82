// What is looked up often about one build, computed once: exact values of cells, their owners, instances by
// kind, and which version of every instance stands there.
#pragma once
#include <span>
#include <unordered_map>
#include <vector>

#include "model/build.hpp"

namespace mm {

struct CellOwner {
  EntityId entity;
  std::uint32_t attribute = no_reg;
};

/// Everything is immutable after construction. `build` and `model` must outlive it.
class BuildIndex {
 public:
  BuildIndex(const Model& model, const Build& build);

  const Model& model;
  const Build& build;

  /// Entities of the instances of a kind, in build order; none: of every instance.
  std::span<const EntityId> instances_of(KindId kind) const;
  CellOwner owner(CellId cell) const;
  /// The cell of the same attribute in another version of its instance.
  CellId cell(CellOwner owner, std::size_t version) const;
  /// Of the version that the cell belongs to: index into Build::parts.
  std::uint32_t part_with(CellId cell) const;
  const AttributeDef* attribute(CellId cell) const;
  /// Exact range of a number; a missing one has its declared range or everything.
  const ExactInterval& exact(CellId cell) const {
    return note(cell).as_given ? build.givens[build.cells[cell].given].exact : not_as_given(cell);
  }
  /// No narrower than that.
  const Interval& number(CellId cell) const { return build.cells[cell].number; }
  /// The value, where it is a number known exactly; else null.
  const Rational* point(CellId cell) const {
    return note(cell).number && note(cell).single ? &exact(cell).lo_value : nullptr;
  }
  /// The possible words of a symbolic value; null where none was given.
  const SymbolicSet* symbols(CellId cell) const {
    const SymbolicSetId set = build.cells[cell].symbols();
    return set ? &model.sets[set] : nullptr;
  }
  const CellNote& note(CellId cell) const { return build.notes[cell.index]; }
  bool is_number(CellId cell) const { return note(cell).number; }
  /// More than one value is possible.
  bool is_open(CellId cell) const { return !note(cell).single; }
  /// First cell of every entity, with the first candidate everywhere and only the reworks that are done.
  const std::vector<std::uint32_t>& base_cells() const { return base_cells_; }
  std::uint32_t done_mask(const Instance& instance) const;
  /// Where the cells of the instance's entities begin in one version, put into a list by entity.
  void put_version(const Instance& instance, std::size_t version, std::vector<std::uint32_t>& first) const;
  EntityId part_of(EntityId face) const { return build.instances[build.entities[face].instance].entity; }
  EntityId face_of(EntityId part, std::uint32_t face) const {
    const Instance& instance = build.instances[build.entities[part].instance];
    return face < instance.faces.size() ? instance.faces[face] : EntityId{};
  }
  /// The one face that is joined to this one; none when open or when several are.
  EntityId mate_of(EntityId face) const;

 private:
  struct Hull {
    Interval number;
    bool integer;
    ExactInterval exact;
  };

  void own(const Instance& instance);
  /// Makes the exact range of a number that is not as given, where neither its attribute nor a hull tells it.
  void keep_range(CellId cell, const AttributeDef& attribute);
  const ExactInterval& not_as_given(CellId cell) const;
  const ExactInterval* hull_of(const Interval& number, bool integer) const;
  std::uint32_t offset(const Entity& entity) const;

  std::vector<std::vector<EntityId>> by_kind_;
  std::vector<EntityId> all_;
  std::vector<EntityId> entities_;  // by cell
  std::vector<Hull> hulls_;         // of values that are not given: there are few
  std::unordered_map<std::uint32_t, ExactInterval> apart_;
  std::vector<std::uint32_t> base_cells_;
};

/// The first cell of each entity in one state of the build.
class World {
 public:
  explicit World(const BuildIndex& index) : index_(&index), first_(index.base_cells()) {}
  void set_version(std::uint32_t instance, std::uint32_t version);
  CellId cell(EntityId entity, std::uint32_t attribute) const {
    return CellId{first_[entity.index] + attribute};
  }
  void reset();
  /// The part that now stands where this part or face is: index into Build::parts.
  std::uint32_t part_at(EntityId entity) const { return index_->part_with(cell(index_->part_of(entity), 0)); }
  const BuildIndex& index() const { return *index_; }
  /// Grows whenever a version is set or put back.
  std::uint64_t changes() const { return changes_; }

 private:
  const BuildIndex* index_;
  std::vector<std::uint32_t> first_;
  std::uint64_t changes_ = 0;
  std::vector<std::uint32_t> changed_;  // instances whose version was set since the last reset
};

}  // namespace mm

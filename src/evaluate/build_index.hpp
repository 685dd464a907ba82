// What is looked up often about one build, computed once: exact values of cells, their owners, instances by
// kind, and which version of every instance stands there.
#pragma once
#include <deque>
#include <span>
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
  CellOwner owner(CellId cell) const { return owners_[cell.index]; }
  const AttributeDef* attribute(CellId cell) const;
  /// Exact range of a number; a missing one has its declared range or everything.
  const ExactInterval& exact(CellId cell) const { return *exact_[cell.index]; }
  /// No narrower than that.
  const Interval& number(CellId cell) const { return build.cells[cell].number; }
  /// The value, where it is a number known exactly; else null.
  const Rational* point(CellId cell) const {
    return is_point_[cell.index] != 0 ? &exact_[cell.index]->lo_value : nullptr;
  }
  /// The possible words of a symbolic value; null where none was given.
  const SymbolicSet* symbols(CellId cell) const {
    const SymbolicSetId set = build.cells[cell].symbols;
    return set ? &model.sets[set] : nullptr;
  }
  bool is_number(CellId cell) const;
  /// More than one value is possible.
  bool is_open(CellId cell) const { return open_[cell.index] != 0; }
  /// First cell of every entity, with the first candidate everywhere and only the reworks that are done.
  const std::vector<std::uint32_t>& base_cells() const { return base_cells_; }
  std::uint32_t done_mask(const Instance& instance) const;
  EntityId part_of(EntityId face) const { return build.instances[build.entities[face].instance].entity; }
  EntityId face_of(EntityId part, std::uint32_t face) const {
    const Instance& instance = build.instances[build.entities[part].instance];
    return face < instance.faces.size() ? instance.faces[face] : EntityId{};
  }
  /// The one face that is joined to this one; none when open or when several are.
  EntityId mate_of(EntityId face) const;

 private:
  void own(EntityId entity, CellId first, const Schema& schema);
  const ExactInterval& exact_of(CellId cell);
  const ExactInterval& whole(const ExactInterval& range);
  bool has_choice(CellId cell) const;

  std::vector<std::vector<EntityId>> by_kind_;
  std::vector<EntityId> all_;
  std::vector<CellOwner> owners_;
  std::vector<const ExactInterval*> exact_;  // of the build, or made
  std::deque<ExactInterval> made_;
  std::vector<char> is_point_;
  std::vector<char> open_;
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

#include "evaluate/build_index.hpp"

#include "model/cell_note.hpp"

namespace mm {

namespace {
constexpr std::size_t most_hulls = 30;  // looked through one by one
}

BuildIndex::BuildIndex(const Model& m, const Build& b)
    : model(m),
      build(b),
      by_kind_(m.kinds.size()),
      entities_(b.cells.size()),
      base_cells_(b.entities.size(), 0) {
  for (const Instance& instance : build.instances) {
    by_kind_[instance.kind.index].push_back(instance.entity);
    all_.push_back(instance.entity);
    own(instance);
    put_version(instance, done_mask(instance), base_cells_);
  }
}

void BuildIndex::own(const Instance& instance) {
  const KindDef& kind = model.kinds[instance.kind];
  CellId cell = instance.cells;
  const auto own_all = [&](EntityId entity, const Schema& schema) {
    for (const AttributeDef& attribute : schema.attributes) {
      entities_[cell.index] = entity;
      if (is_number(cell) && !note(cell).as_given) keep_range(cell, attribute);
      ++cell.index;
    }
  };
  for (std::uint32_t v = 0; v < instance.versions; ++v) {
    own_all(instance.entity, kind.schema);
    for (std::size_t f = 0; f < kind.faces.size(); ++f) {
      const FaceDef& face = kind.faces[f];
      own_all(instance.faces[f], model.interfaces[face.interface].sides[face.side].schema);
    }
  }
}

std::uint32_t BuildIndex::offset(const Entity& entity) const {
  if (entity.face == no_reg) return 0;
  return model.kinds[build.instances[entity.instance].kind].face_offsets[entity.face];
}

CellOwner BuildIndex::owner(CellId cell) const {
  const EntityId entity = entities_[cell.index];
  const Entity& e = build.entities[entity];
  const Instance& instance = build.instances[e.instance];
  return {entity, (cell.index - instance.cells.index) % instance.sheet_size - offset(e)};
}

CellId BuildIndex::cell(CellOwner owner, std::size_t version) const {
  const Entity& e = build.entities[owner.entity];
  return CellId{build.instances[e.instance].sheet(version).index + offset(e) + owner.attribute};
}

std::uint32_t BuildIndex::part_with(CellId cell) const {
  const Instance& instance = build.instances[build.entities[entities_[cell.index]].instance];
  return build.part_of(instance, (cell.index - instance.cells.index) / instance.sheet_size);
}

const AttributeDef* BuildIndex::attribute(CellId cell) const {
  const CellOwner at = owner(cell);
  return &schema_of(model, build, at.entity).attributes[at.attribute];
}

const ExactInterval* BuildIndex::hull_of(const Interval& number, bool integer) const {
  for (const Hull& hull : hulls_)
    if (hull.number == number && hull.integer == integer) return &hull.exact;
  return nullptr;
}

void BuildIndex::keep_range(CellId id, const AttributeDef& attribute) {
  const Cell& cell = build.cells[id];
  const bool integer = (cell.flags & cell_integer) != 0;
  if (is_given(cell)) {
    apart_.emplace(id.index, exact_range(build, cell, attribute));
  } else if (attribute.range) {
    if (integer && !ends_are_whole(*attribute.range))
      apart_.emplace(id.index, exact_range(build, cell, attribute));
  } else if (cell.number != Interval::entire() && hull_of(cell.number, integer) == nullptr) {
    if (hulls_.size() < most_hulls)
      hulls_.push_back({cell.number, integer, exact_range(build, cell, attribute)});
    else
      apart_.emplace(id.index, exact_range(build, cell, attribute));
  }
}

const ExactInterval& BuildIndex::not_as_given(CellId id) const {
  static const ExactInterval none = ExactInterval::none(), entire = ExactInterval::entire();
  if (!is_number(id)) return none;
  if (const auto found = apart_.find(id.index); found != apart_.end()) return found->second;
  if (const AttributeDef* def = attribute(id); def->range) return *def->range;
  const Cell& cell = build.cells[id];
  const ExactInterval* hull = hull_of(cell.number, (cell.flags & cell_integer) != 0);
  return hull != nullptr ? *hull : entire;
}

std::span<const EntityId> BuildIndex::instances_of(KindId kind) const {
  return kind ? std::span<const EntityId>(by_kind_[kind.index]) : std::span<const EntityId>(all_);
}

std::uint32_t BuildIndex::done_mask(const Instance& instance) const {
  std::uint32_t mask = 0;
  for (std::size_t i = 0; i < instance.reworks.size(); ++i) {
    if (build.reworks[instance.reworks[i]].done) mask |= 1U << i;
  }
  return mask;
}

EntityId BuildIndex::mate_of(EntityId face) const {
  const std::uint32_t joint = build.entities[face].joint;
  if (joint == no_reg) return {};
  EntityId mate;
  for (const std::vector<EntityId>& side : build.joints[joint].sides) {
    bool mine = false;
    for (const EntityId other : side) mine = mine || other == face;
    if (mine) continue;
    for (const EntityId other : side) {
      if (mate) return {};
      mate = other;
    }
  }
  return mate;
}

void BuildIndex::put_version(const Instance& instance, std::size_t version,
                             std::vector<std::uint32_t>& first) const {
  const std::uint32_t sheet = instance.sheet(version).index;
  const std::vector<std::uint32_t>& offsets = model.kinds[instance.kind].face_offsets;
  first[instance.entity.index] = sheet;
  for (std::size_t f = 0; f < offsets.size(); ++f) first[instance.faces[f].index] = sheet + offsets[f];
}

void World::set_version(std::uint32_t instance, std::uint32_t version) {
  const Instance& changing = index_->build.instances[instance];
  if (first_[changing.entity.index] == changing.sheet(version).index) return;
  changed_.push_back(instance);
  ++changes_;
  index_->put_version(changing, version, first_);
}

/// Only what was changed is put back: a reset for every finding must not cost the size of the build.
void World::reset() {
  if (changed_.empty()) return;
  ++changes_;
  for (const std::uint32_t i : changed_) {
    const Instance& instance = index_->build.instances[i];
    first_[instance.entity.index] = index_->base_cells()[instance.entity.index];
    for (const EntityId face : instance.faces) first_[face.index] = index_->base_cells()[face.index];
  }
  changed_.clear();
}

}  // namespace mm

#include "evaluate/build_index.hpp"

namespace mm {

namespace {

void whole_numbers_only(ExactInterval& value) {
  if (!value.lo_infinite) value.lo_value = ceil(value.lo_value);
  if (!value.hi_infinite) value.hi_value = floor(value.hi_value);
}

}  // namespace

BuildIndex::BuildIndex(const Model& m, const Build& b)
    : model(m),
      build(b),
      by_kind_(m.kinds.size()),
      owners_(b.cells.size()),
      base_cells_(b.entities.size(), 0) {
  for (const Instance& instance : build.instances) {
    by_kind_[instance.kind.index].push_back(instance.entity);
    all_.push_back(instance.entity);
    for (const Version& version : instance.versions) {
      own(instance.entity, version.part_cells, model.kinds[instance.kind].schema);
      for (std::size_t f = 0; f < instance.faces.size(); ++f) {
        own(instance.faces[f], version.face_cells[f], schema_of(model, build, instance.faces[f]));
      }
    }
    const Version& version = instance.versions[done_mask(instance)];
    base_cells_[instance.entity.index] = version.part_cells.index;
    for (std::size_t f = 0; f < instance.faces.size(); ++f) {
      base_cells_[instance.faces[f].index] = version.face_cells[f].index;
    }
  }
  exact_.reserve(build.cells.size());
  is_point_.reserve(build.cells.size());
  open_.reserve(build.cells.size());
  for (std::size_t i = 0; i < build.cells.size(); ++i) {
    const ExactInterval& range = exact_of(CellId{i});
    exact_.push_back(&range);
    is_point_.push_back(range.is_point() ? 1 : 0);
    open_.push_back(has_choice(CellId{i}) ? 1 : 0);
  }
}

void BuildIndex::own(EntityId entity, CellId first, const Schema& schema) {
  for (std::uint32_t i = 0; i < schema.attributes.size(); ++i) owners_[first.index + i] = {entity, i};
}

const AttributeDef* BuildIndex::attribute(CellId cell) const {
  const CellOwner owner = owners_[cell.index];
  if (!owner.entity) return nullptr;
  return &schema_of(model, build, owner.entity).attributes[owner.attribute];
}

bool BuildIndex::is_number(CellId cell) const {
  const AttributeDef* def = attribute(cell);
  return def == nullptr ? !build.cells[cell].symbols : def->type.is_number();
}

const ExactInterval& BuildIndex::exact_of(CellId id) {
  static const ExactInterval none = ExactInterval::none(), entire = ExactInterval::entire();
  const Cell& cell = build.cells[id];
  if (!is_number(id)) return none;
  const bool integer = (cell.flags & cell_integer) != 0;
  if ((cell.flags & cell_missing) != 0 || !cell.given) {
    const AttributeDef* def = attribute(id);
    const bool declared = def != nullptr && def->range;
    if (!declared && cell.number == Interval::entire()) return entire;
    const ExactInterval& range =
        declared ? *def->range : made_.emplace_back(ExactInterval::from(cell.number));
    return integer ? whole(range) : range;
  }
  const Given& given = build.givens[cell.given];
  if (!given.also) return integer ? whole(given.exact) : given.exact;
  ExactInterval& disputed = made_.emplace_back(given.exact);
  for (GivenId also = given.also; also; also = build.givens[also].also)
    disputed = hull(disputed, build.givens[also].exact);
  return integer ? whole(disputed) : disputed;
}

const ExactInterval& BuildIndex::whole(const ExactInterval& range) {
  if (range.empty ||
      ((range.lo_infinite || range.lo_value.is_whole()) && (range.hi_infinite || range.hi_value.is_whole())))
    return range;
  ExactInterval& cut = made_.emplace_back(range);
  whole_numbers_only(cut);
  return cut;
}

bool BuildIndex::has_choice(CellId id) const {
  if (is_number(id)) return is_point_[id.index] == 0;
  const SymbolicSet* set = symbols(id);
  return set == nullptr || set->all || set->members.size() != 1;
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

void World::set_version(std::uint32_t instance_index, std::uint32_t version_index) {
  const Instance& instance = index_->build.instances[instance_index];
  const Version& version = instance.versions[version_index];
  changed_.push_back(instance_index);
  ++changes_;
  first_[instance.entity.index] = version.part_cells.index;
  for (std::size_t f = 0; f < instance.faces.size(); ++f) {
    first_[instance.faces[f].index] = version.face_cells[f].index;
  }
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

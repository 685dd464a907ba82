#include "evaluate/build_index.hpp"

#include <algorithm>

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
      entities_(b.cells.size()),
      base_cells_(b.entities.size(), 0) {
  for (const Instance& instance : build.instances) {
    by_kind_[instance.kind.index].push_back(instance.entity);
    all_.push_back(instance.entity);
    own(instance);
    put_version(instance, done_mask(instance), base_cells_);
  }
  notes_.reserve(build.cells.size());
  for (std::size_t i = 0; i < build.cells.size(); ++i) notes_.push_back(note(CellId{i}));
}

void BuildIndex::own(const Instance& instance) {
  const std::vector<std::uint32_t>& offsets = model.kinds[instance.kind].face_offsets;
  auto cell = entities_.begin() + instance.cells.index;
  for (std::uint32_t v = 0; v < instance.versions; ++v) {
    EntityId entity = instance.entity;
    for (std::size_t f = 0; f <= offsets.size(); ++f) {
      const std::uint32_t from = f == 0 ? 0 : offsets[f - 1];
      const std::uint32_t to = f < offsets.size() ? offsets[f] : instance.sheet_size;
      cell = std::fill_n(cell, to - from, entity);
      if (f < offsets.size()) entity = instance.faces[f];
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

BuildIndex::Note BuildIndex::note(CellId id) {
  if (!attribute(id)->type.is_number()) {
    static const ExactInterval none = ExactInterval::none();
    const SymbolicSet* set = symbols(id);
    const bool open = set == nullptr || set->all || set->members.size() != 1;
    return {static_cast<std::uint8_t>(place_of(id, none) & apart), false, false, open};
  }
  const ExactInterval& range = exact_of(id);
  return {static_cast<std::uint8_t>(place_of(id, range) & apart), true, range.is_point(), !range.is_point()};
}

std::uint8_t BuildIndex::place_of(CellId cell, const ExactInterval& range) {
  const GivenId given = build.cells[cell].given;
  if (given && &range == &build.givens[given].exact) return of_given;
  auto found = std::find(shared_.begin(), shared_.end(), &range);
  if (found == shared_.end()) {
    if (shared_.size() == of_given) {
      apart_.emplace(cell.index, &range);
      return apart;
    }
    found = shared_.insert(found, &range);
  }
  return static_cast<std::uint8_t>(found - shared_.begin());
}

const ExactInterval& BuildIndex::exact_of(CellId id) {
  static const ExactInterval entire = ExactInterval::entire();
  const Cell& cell = build.cells[id];
  const bool integer = (cell.flags & cell_integer) != 0;
  if ((cell.flags & cell_missing) != 0 || !cell.given) {
    const AttributeDef* def = attribute(id);
    if (!def->range) return cell.number == Interval::entire() ? entire : hull_of(cell.number, integer);
    return integer ? whole(*def->range) : *def->range;
  }
  const Given& given = build.givens[cell.given];
  if (!given.also) return integer ? whole(given.exact) : given.exact;
  ExactInterval& disputed = made_.emplace_back(given.exact);
  for (GivenId also = given.also; also; also = build.givens[also].also)
    disputed = hull(disputed, build.givens[also].exact);
  return integer ? whole(disputed) : disputed;
}

/// Those of values that are not given: there are few.
const ExactInterval& BuildIndex::hull_of(const Interval& number, bool integer) {
  for (const Hull& hull : hulls_)
    if (hull.number == number && hull.integer == integer) return *hull.exact;
  const ExactInterval& made = made_.emplace_back(ExactInterval::from(number));
  const ExactInterval& exact = integer ? whole(made) : made;
  if (hulls_.size() < of_given) hulls_.push_back({number, integer, &exact});
  return exact;
}

const ExactInterval& BuildIndex::whole(const ExactInterval& range) {
  if (range.empty ||
      ((range.lo_infinite || range.lo_value.is_whole()) && (range.hi_infinite || range.hi_value.is_whole())))
    return range;
  ExactInterval& cut = made_.emplace_back(range);
  whole_numbers_only(cut);
  return cut;
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

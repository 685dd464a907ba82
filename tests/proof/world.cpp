#include "judge.hpp"

#include <algorithm>

namespace mm_proof {

World::World(const Scene& scene, std::uint64_t seed)
    : candidates(scene.fits.size(), 0), scene_(&scene), draw_(seed), seed_(seed) {}

void World::clear(std::uint64_t seed) {
  numbers_.clear();
  between_.clear();
  words_.clear();
  draw_ = Draw(seed);
  seed_ = seed;
}

CellKey World::key(EntityRef e, int attribute) const {
  const Instance& instance = scene_->instances[static_cast<std::size_t>(e.instance)];
  return {e.instance, candidates[static_cast<std::size_t>(instance.fit)], e.face, attribute};
}

const Value& World::value(EntityRef e, int attribute) const {
  const Instance& instance = scene_->instances[static_cast<std::size_t>(e.instance)];
  const Fit& fit = scene_->fits[static_cast<std::size_t>(instance.fit)];
  const int candidate = candidates[static_cast<std::size_t>(instance.fit)];
  const Part& part =
      scene_->parts[static_cast<std::size_t>(fit.candidates[static_cast<std::size_t>(candidate)])];
  return part.values[static_cast<std::size_t>(e.face + 1)][static_cast<std::size_t>(attribute)];
}

Rational World::drawn(const Value& value) {
  const auto pick = [&](const Rational& lo, const Rational& hi) {
    const int way = draw_.below(10);
    if (lo == hi || way < (manner == 1 ? 4 : 1)) return lo;
    if (way < (manner == 1 ? 8 : 2)) return hi;
    Rational at = lo + (hi - lo) * Rational(draw_.below(65), 64);
    at.canonicalize();
    if (value.whole) at = floor(Real(at)).lo;
    return at;
  };
  static const int far[] = {0, 1, 2, 7, 50, 400, 30'000, 1'000'000};
  const Rational away = far[draw_.below(8)] * Rational(value.whole ? 1 : 1 + draw_.below(3));
  if (!value.settings.empty()) {
    return value.settings[static_cast<std::size_t>(draw_.below(static_cast<int>(value.settings.size())))];
  }
  if (value.lo && value.hi) return pick(*value.lo, *value.hi);
  if (value.lo) return *value.lo + away;
  if (value.hi) return *value.hi - away;
  return value.whole || draw_.chance(50) ? away : Rational(-away);
}

void World::seek_limits() {
  for (const Node& node : scene_->nodes)
    if (node.op == Op::literal) limits_.push_back(&node);
}

std::optional<Rational> World::at_limit(const Value& value, Dim dim) {
  if (limits_.empty() || !value.settings.empty() || !draw_.chance(15)) return std::nullopt;
  const Node& limit = *draw_.of(limits_);
  const bool inside = (!value.lo || *value.lo <= limit.value) && (!value.hi || limit.value <= *value.hi);
  if (limit.dim != dim || !inside || (value.whole && limit.value.get_den() != 1)) return std::nullopt;
  return limit.value;
}

Rational World::drawn(EntityRef e, int attribute) {
  const Value& may = value(e, attribute);
  const Dim dim = scene_->schemas[static_cast<std::size_t>(scene_->schema_of(e))]
                      .attributes[static_cast<std::size_t>(attribute)]
                      .dim;
  const std::optional<Rational> limit = at_limit(may, dim);
  return limit ? *limit : drawn(may);
}

const Rational& World::number(EntityRef e, int attribute) {
  const CellKey cell = key(e, attribute);
  const auto found = numbers_.find(cell);
  if (found != numbers_.end()) return found->second;
  return numbers_.emplace(cell, drawn(e, attribute)).first->second;
}

std::optional<std::pair<CellKey, Rational>> World::redraw_one() {
  if (numbers_.empty()) return std::nullopt;
  auto at = numbers_.begin();
  std::advance(at, draw_.below(static_cast<int>(numbers_.size())));
  const std::pair<CellKey, Rational> before = *at;
  const auto& [instance, candidate, face, attribute] = before.first;
  const EntityRef e{instance, face};
  const Value& may = value(e, attribute);
  Rational next = drawn(e, attribute);
  if (!may.whole && may.settings.empty() && draw_.chance(50)) {
    // part of the way
    next = before.second + (next - before.second) / (1 << draw_.below(20));
  }
  at->second = next;
  return before;
}

void World::give_between(const CellKey& cell, const Rational& lo, const Rational& hi) {
  give(cell, lo);
  Real& out = between_[cell] = Real::between(lo, hi);
  out.form = {0, 1};
}

Real World::real(EntityRef e, int attribute) {
  if (!between_.empty()) {
    const auto found = between_.find(key(e, attribute));
    if (found != between_.end()) return found->second;
  }
  return Real(number(e, attribute));
}

int World::word(EntityRef e, int attribute) {
  const CellKey cell = key(e, attribute);
  const auto found = words_.find(cell);
  if (found != words_.end()) return found->second;
  const Value& may = value(e, attribute);
  int word = may.words.empty() ? strange_size : draw_.of(may.words);
  if (may.any_size) word = draw_.below(static_cast<int>(scene_->sizes.size()));
  return words_.emplace(cell, word).first->second;
}

std::vector<int> World::order(int table) {
  const std::size_t count = scene_->tables[static_cast<std::size_t>(table)].rows.size();
  std::vector<int> out(count);
  for (std::size_t i = 0; i < count; ++i) out[i] = static_cast<int>((i + first_row.value_or(0)) % count);
  if (first_row) return out;
  Draw draw(seed_ * 31 + static_cast<std::uint64_t>(table));
  for (std::size_t i = count; i > 1; --i)
    std::swap(out[i - 1], out[static_cast<std::size_t>(draw.below(static_cast<int>(i)))]);
  return out;
}

std::string World::told() const {
  std::string out;
  const auto name = [&](const CellKey& cell) {
    const auto& [instance, candidate, face, attribute] = cell;
    const EntityRef e{instance, face};
    const Instance& at = scene_->instances[static_cast<std::size_t>(instance)];
    const Kind& kind = scene_->kinds[static_cast<std::size_t>(at.kind)];
    std::string text = at.name + "#" + std::to_string(candidate);
    if (face >= 0) text += "." + kind.faces[static_cast<std::size_t>(face)].name;
    const Schema& schema = scene_->schemas[static_cast<std::size_t>(scene_->schema_of(e))];
    return text + "." + schema.attributes[static_cast<std::size_t>(attribute)].name;
  };
  for (const auto& [cell, number] : numbers_) out += "  " + name(cell) + " = " + number.get_str() + "\n";
  for (const auto& [cell, word] : words_) out += "  " + name(cell) + " = word " + std::to_string(word) + "\n";
  return out;
}

}  // namespace mm_proof

#include "engine.hpp"

#include <algorithm>

#include "evaluate/build_index.hpp"

namespace mm_proof {

std::string word_of(mm::Verdict verdict) {
  static const char* const words[] = {"not_applicable", "fits", "setting", "choice", "unknown", "conflict"};
  return words[static_cast<std::size_t>(verdict)];
}

EntityRef Engine::entity(mm::EntityId id) const {
  if (!id) return {};
  const mm::Entity& e = build().entities[id];
  const mm::Instance& instance = build().instances[e.instance];
  std::string name(read_->names.text(instance.fit_name));
  if (instance.place) name += "." + std::string(read_->names.text(instance.place));
  return {instances_.at(name), e.face == mm::no_reg ? -1 : static_cast<int>(e.face)};
}

bool Engine::judge(const Scene& scene, const std::string& text, std::size_t max_splits, bool details) {
  scene_ = &scene;
  read_ = std::make_unique<Read>();
  found.clear();
  said.clear();
  instances_.clear();
  for (std::size_t i = 0; i < scene.instances.size(); ++i)
    instances_[scene.instances[i].name] = static_cast<int>(i);
  mm::load_text("made.build", text, read_->sources, read_->names, read_->tree, read_->messages);
  if (!read_->messages.has_errors()) {
    read_->project = mm::resolve(read_->tree, read_->sources, read_->names, read_->messages);
  }
  if (read_->messages.has_errors()) {
    for (const mm::Message& message : read_->messages.sorted(5, nullptr))
      said += mm::render(message, read_->sources);
    return false;
  }
  mm::EvaluateOptions options;
  options.details = options.setting_limits = details;
  options.keep_worlds = true;
  options.max_splits = max_splits;
  read_->results = mm::evaluate(read_->project, build(), read_->names, options);

  std::map<std::string, Found> by_name;
  for (const Interface& interface : scene.interfaces) {
    for (const Requirement& need : interface.requirements)
      by_name[need.name] = {&need, &interface, nullptr, {}, nullptr};
  }
  for (const Rule& rule : scene.rules) {
    for (const Requirement& need : rule.requirements)
      by_name[need.name] = {&need, nullptr, &rule, {}, nullptr};
  }
  for (const mm::Finding& finding : read_->results.findings) {
    const mm::RequirementDef& def = read_->project.model.requirements[finding.requirement];
    Found one = by_name.at(std::string(read_->names.text(def.name)));
    one.finding = &finding;
    for (const mm::EntityId id : finding.binding->locals) one.binding.locals.push_back(entity(id));
    for (const auto& list : finding.binding->lists) {
      one.binding.lists.emplace_back();
      for (const mm::EntityId id : list) one.binding.lists.back().push_back(entity(id));
    }
    found.push_back(std::move(one));
  }
  return true;
}

void Engine::enter(const mm::Case& state, World& world) const {
  for (const auto& [fit, candidate] : state.choices) {
    const std::string name(read_->names.text(build().fits[fit].name));
    const std::string part(read_->names.text(build().parts[build().fits[fit].candidates[candidate]].name));
    for (std::size_t f = 0; f < scene_->fits.size(); ++f) {
      if (scene_->fits[f].name != name) continue;
      for (std::size_t c = 0; c < scene_->fits[f].candidates.size(); ++c) {
        const Part& own = scene_->parts[static_cast<std::size_t>(scene_->fits[f].candidates[c])];
        if (own.name == part) world.candidates[f] = static_cast<int>(c);
      }
    }
  }
}

int Engine::attribute(const mm::WorldValue& value, EntityRef e) const {
  const mm::AttributeDef& def =
      mm::schema_of(read_->project.model, build(), value.entity).attributes[value.attribute];
  const auto& attributes = scene_->schemas[static_cast<std::size_t>(scene_->schema_of(e))].attributes;
  for (std::size_t i = 0; i < attributes.size(); ++i) {
    if (attributes[i].name == read_->names.text(def.name)) return static_cast<int>(i);
  }
  return -1;
}

const AttributeDef& Engine::definition(EntityRef e, int attribute) const {
  return scene_->schemas[static_cast<std::size_t>(scene_->schema_of(e))]
      .attributes[static_cast<std::size_t>(attribute)];
}

Rational scale_of(Dim dim) {
  Rational out = 1;
  for (int i = 0; i < std::abs(dim.length); ++i) out *= dim.length > 0 ? Rational(1000) : Rational(1, 1000);
  for (int i = 0; i < std::abs(dim.angle); ++i) out *= dim.angle > 0 ? Rational(360) : Rational(1, 360);
  return out;
}

mm::WorldValue Engine::number_of(mm::CellId cell) const {
  const mm::CellOwner owner = read_->results.index->owner(cell);
  return {cell, owner.entity, owner.attribute, 0, mm::no_reg};
}

Dim Engine::dim(const mm::Measure& measure) const {
  const auto power = [&](mm::BaseDimension base) {
    return measure.dimension.twelfths[static_cast<std::size_t>(base)] / 12;
  };
  return {power(mm::BaseDimension::length), power(mm::BaseDimension::angle)};
}

std::optional<mm::Rational> Engine::number(const mm::WorldValue& value, World& world) const {
  const EntityRef e = entity(value.entity);
  const int at = attribute(value, e);
  if (at < 0) return std::nullopt;
  return mm::Rational(Rational(world.number(e, at) / scale_of(definition(e, at).dim)));
}

void Engine::give(const std::vector<mm::WorldValue>& values, World& world) const {
  const mm::Model& model = read_->project.model;
  for (const mm::WorldValue& value : values) {
    const EntityRef e = entity(value.entity);
    const int at = attribute(value, e);
    if (at < 0) continue;
    const CellKey cell = world.key(e, at);
    const AttributeDef& def = definition(e, at);
    if (value.symbol == mm::no_reg) {
      world.give(cell, value.number.gmp() * scale_of(def.dim));
    } else if (def.sort == Sort::size) {
      int size = strange_size;
      if (value.symbol < model.designation_consts.size()) {
        const std::string& text = model.designation_consts[mm::DesignationConstId{value.symbol}].text;
        for (std::size_t s = 0; s < scene_->sizes.size(); ++s) {
          if (scene_->sizes[s].text == text) size = static_cast<int>(s);
        }
      }
      world.give_word(cell, size);
    } else if (value.symbol < read_->names.size()) {
      for (std::size_t w = 0; w < scene_->words.size(); ++w) {
        if (scene_->words[w] == read_->names.text(mm::Symbol{value.symbol}))
          world.give_word(cell, static_cast<int>(w));
      }
    }
  }
}

std::optional<Engine::Between> Engine::between(const std::vector<mm::WorldValue>& values,
                                               const World& world) const {
  for (const mm::WorldValue& value : values) {
    if (!value.up_to) continue;
    const EntityRef e = entity(value.entity);
    const int at = attribute(value, e);
    if (at < 0) continue;
    const Rational scale = scale_of(definition(e, at).dim);
    return Between{world.key(e, at), value.number.gmp() * scale, value.up_to->gmp() * scale};
  }
  return std::nullopt;
}

bool Engine::inside(const std::vector<mm::WorldValue>& values, World& world, bool set) const {
  for (const mm::WorldValue& value : values) {
    const EntityRef e = entity(value.entity);
    const int at = attribute(value, e);
    if (at < 0) continue;
    const Value& may = world.value(e, at);
    if (value.symbol == mm::no_reg) {
      const Rational& number = world.number(e, at);
      if ((may.lo && number < *may.lo) || (may.hi && number > *may.hi) ||
          (may.whole && number.get_den() != 1))
        return false;
      const auto& settings = may.settings;
      if (set && !settings.empty() && std::find(settings.begin(), settings.end(), number) == settings.end())
        return false;
    } else if (!may.words.empty()) {
      const int word = world.word(e, at);
      bool known = false;
      for (const int allowed : may.words) {
        known = known || allowed == word ||
                (word < strange_size && scene_->sizes[static_cast<std::size_t>(word)].form >= 0 &&
                 scene_->schemas[static_cast<std::size_t>(scene_->schema_of(e))]
                         .attributes[static_cast<std::size_t>(at)]
                         .sort == Sort::size);
      }
      if (!known) return false;
    }
  }
  return true;
}

}  // namespace mm_proof

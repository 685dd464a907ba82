#include "report/scene.hpp"

#include <algorithm>
#include <array>

#include "report/page.hpp"

namespace mm {

namespace {

std::string_view folder_of(std::string_view path) {
  const auto slash = path.rfind('/');
  return slash == std::string_view::npos ? std::string_view{} : path.substr(0, slash + 1);
}

/// Of the fit, the place and the face what is told, then none. Names hold no dot, so equal lists are equal
/// texts.
using NameParts = std::array<Symbol, 3>;

NameParts name_parts(const Scene& scene, EntityId entity, bool with_place, bool with_face) {
  const Entity& e = scene.build.entities[entity];
  const Instance& instance = scene.build.instances[e.instance];
  NameParts out{instance.fit_name};
  std::size_t at = 1;
  if (with_place && instance.place) out[at++] = instance.place;
  if (with_face && e.face != no_reg) out[at] = scene.model().kinds[instance.kind].faces[e.face].name;
  return out;
}

std::string text_of(const Scene& scene, const NameParts& parts) {
  std::string out = scene.text(parts[0]);
  for (std::size_t i = 1; i < parts.size() && parts[i]; ++i) out += "." + scene.text(parts[i]);
  return out;
}

std::string bare_name(const Scene& scene, EntityId entity, bool with_place, bool with_face) {
  return text_of(scene, name_parts(scene, entity, with_place, with_face));
}

template <class T>
void add_once(std::vector<T>& list, T item) {
  if (std::find(list.begin(), list.end(), item) == list.end()) list.push_back(std::move(item));
}

Symbol shared_place_of(const Scene& scene, const std::vector<EntityId>& entities) {
  Symbol place;
  for (const EntityId entity : entities) {
    const Symbol its = scene.build.instances[scene.build.entities[entity].instance].place;
    if (!its) continue;
    if (place && place != its) return {};
    place = its;
  }
  return place;
}

}  // namespace

std::string where(const Scene& scene, Span span, bool short_path) {
  if (!span.file) return {};
  std::string_view path = scene.sources[span.file].path;
  if (short_path && scene.build.decl != nullptr && scene.build.decl->span.file) {
    const std::string_view folder = folder_of(scene.sources[scene.build.decl->span.file].path);
    if (path.starts_with(folder)) path.remove_prefix(folder.size());
  }
  return printable(path) + ":" + std::to_string(scene.sources.place(span).line);
}

std::string build_name(const Scene& scene) {
  if (scene.build.is_trial) return "trial \"" + printable(scene.build.title) + "\"";
  return "build " + scene.text(scene.build.name);
}

std::vector<EntityId> bound_entities(const Finding& finding) {
  std::vector<EntityId> out = finding.binding->locals;
  for (const auto& list : finding.binding->lists) out.insert(out.end(), list.begin(), list.end());
  std::size_t kept = 0;
  for (const EntityId entity : out)
    if (entity && std::find(out.begin(), out.begin() + static_cast<std::ptrdiff_t>(kept), entity) ==
                      out.begin() + static_cast<std::ptrdiff_t>(kept))
      out[kept++] = entity;
  out.resize(kept);
  return out;
}

std::string entity_text(const Scene& scene, EntityId entity, bool with_place) {
  return bare_name(scene, entity, with_place, true);
}

Symbol shared_place(const Scene& scene, const Finding& finding) {
  return shared_place_of(scene, bound_entities(finding));
}

std::string subject_text(const Scene& scene, const Finding& finding, bool faces, std::size_t most) {
  const std::vector<EntityId> entities = bound_entities(finding);
  const bool with_place = !shared_place_of(scene, entities);
  std::vector<NameParts> parts;
  for (const EntityId entity : entities) {
    const NameParts its = name_parts(scene, entity, with_place, faces);
    if (its[0]) add_once(parts, its);
  }
  std::string out = parts.empty() ? std::string() : text_of(scene, parts[0]);
  const std::size_t shown = parts.size() > most ? most - 1 : parts.size();
  for (std::size_t i = 1; i < shown; ++i) out += " + " + text_of(scene, parts[i]);
  if (shown < parts.size()) out += " + " + std::to_string(parts.size() - shown) + " more";
  return out;
}

std::vector<std::string> subject_names(const Scene& scene, const Finding& finding) {
  std::vector<std::string> out;
  const auto add = [&](std::string name) {
    if (!name.empty()) add_once(out, std::move(name));
  };
  for (const EntityId entity : bound_entities(finding)) {
    const Instance& instance = scene.build.instances[scene.build.entities[entity].instance];
    add(bare_name(scene, entity, true, true));
    add(bare_name(scene, entity, true, false));
    add(bare_name(scene, entity, false, false));
    add(scene.text(instance.place));
    for (const std::uint32_t candidate : scene.build.fits[instance.fit].candidates)
      add(scene.text(scene.build.parts[candidate].name));
  }
  if (finding.binding->joint != no_reg) add(scene.text(scene.build.joints[finding.binding->joint].label));
  return out;
}

std::string candidate_name(const Scene& scene, std::uint32_t fit, std::uint32_t candidate) {
  return scene.text(scene.build.parts[scene.build.fits[fit].candidates[candidate]].name);
}

}  // namespace mm

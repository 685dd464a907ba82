#include "report/scene.hpp"

#include <algorithm>

#include "report/page.hpp"

namespace mm {

namespace {

std::string_view folder_of(std::string_view path) {
  const auto slash = path.rfind('/');
  return slash == std::string_view::npos ? std::string_view{} : path.substr(0, slash + 1);
}

std::string bare_name(const Scene& scene, EntityId entity, bool with_place, bool with_face) {
  const Entity& e = scene.build.entities[entity];
  const Instance& instance = scene.build.instances[e.instance];
  std::string out = scene.text(instance.fit_name);
  if (with_place && instance.place) out += "." + scene.text(instance.place);
  if (with_face && e.face != no_reg)
    out += "." + scene.text(scene.model().kinds[instance.kind].faces[e.face].name);
  return out;
}

void add_once(std::vector<std::string>& list, std::string item) {
  if (!item.empty() && std::find(list.begin(), list.end(), item) == list.end())
    list.push_back(std::move(item));
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
  std::vector<EntityId> out;
  const auto add = [&](EntityId entity) {
    if (entity && std::find(out.begin(), out.end(), entity) == out.end()) out.push_back(entity);
  };
  for (const EntityId entity : finding.binding->locals) add(entity);
  for (const auto& list : finding.binding->lists)
    for (const EntityId entity : list) add(entity);
  return out;
}

std::string entity_text(const Scene& scene, EntityId entity, bool with_place) {
  return bare_name(scene, entity, with_place, true);
}

Symbol shared_place(const Scene& scene, const Finding& finding) {
  Symbol place;
  for (const EntityId entity : bound_entities(finding)) {
    const Symbol its = scene.build.instances[scene.build.entities[entity].instance].place;
    if (!its) continue;
    if (place && place != its) return {};
    place = its;
  }
  return place;
}

std::string subject_text(const Scene& scene, const Finding& finding, bool faces, std::size_t most) {
  const bool with_place = !shared_place(scene, finding);
  std::vector<std::string> parts;
  for (const EntityId entity : bound_entities(finding))
    add_once(parts, bare_name(scene, entity, with_place, faces));
  std::string out = parts.empty() ? std::string() : parts[0];
  const std::size_t shown = parts.size() > most ? most - 1 : parts.size();
  for (std::size_t i = 1; i < shown; ++i) out += " + " + parts[i];
  if (shown < parts.size()) out += " + " + std::to_string(parts.size() - shown) + " more";
  return out;
}

std::vector<std::string> subject_names(const Scene& scene, const Finding& finding) {
  std::vector<std::string> out;
  for (const EntityId entity : bound_entities(finding)) {
    const Instance& instance = scene.build.instances[scene.build.entities[entity].instance];
    add_once(out, bare_name(scene, entity, true, true));
    add_once(out, bare_name(scene, entity, true, false));
    add_once(out, bare_name(scene, entity, false, false));
    if (instance.place) add_once(out, scene.text(instance.place));
    for (const std::uint32_t candidate : scene.build.fits[instance.fit].candidates)
      add_once(out, scene.text(scene.build.parts[candidate].name));
  }
  if (finding.binding->joint != no_reg)
    add_once(out, scene.text(scene.build.joints[finding.binding->joint].label));
  return out;
}

std::string candidate_name(const Scene& scene, std::uint32_t fit, std::uint32_t candidate) {
  return scene.text(scene.build.parts[scene.build.fits[fit].candidates[candidate]].name);
}

}  // namespace mm

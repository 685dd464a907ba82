#include "report/scene.hpp"

#include <algorithm>
#include <array>

#include "base/hash.hpp"
#include "base/index_table.hpp"
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

/// Keeps the first of equal ones.
template <class T, class Hash>
void drop_repeats(std::vector<T>& list, Hash&& hash_of_one) {
  constexpr std::size_t few = 24;  // sooner looked through than looked up
  const bool many = list.size() > few;
  IndexTable known;
  std::uint32_t kept = 0;
  for (const T& item : list) {
    if (many) {
      const std::uint64_t hash = hash_of_one(item);
      if (known.find(hash, [&](std::uint32_t i) { return list[i] == item; }) != IndexTable::none) continue;
      known.add(hash, kept);
    } else if (std::find(list.data(), list.data() + kept, item) != list.data() + kept) {
      continue;
    }
    list[kept++] = item;
  }
  list.resize(kept);
}

std::uint64_t hash_of_name(std::uint64_t before, const NameParts& name) {
  for (const Symbol part : name) before = mixed(before, part.index);
  return before;
}

/// What the subject is called by: every name once, of several places with theirs.
std::vector<NameParts> subject_parts(const Scene& scene, const Finding& finding, bool faces) {
  const bool with_place = !finding.binding->place;
  std::vector<NameParts> out;
  for (const EntityId entity : bound_entities(finding)) {
    const NameParts its = name_parts(scene, entity, with_place, faces);
    if (its[0]) out.push_back(its);
  }
  drop_repeats(out, [](const NameParts& name) { return hash_of_name(0, name); });
  return out;
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

std::string reason_text(const Scene& scene, const Outcome& outcome) {
  if (!outcome.open_reason) return {};
  const OpenReason& reason = *outcome.open_reason;
  std::string out = printable(reason.text);
  if (reason.at) out += " (" + where(scene, scene.build.givens[reason.at].span, true) + ")";
  return reason.todo.empty() ? out : out + ": " + reason.todo;
}

std::string build_name(const Scene& scene) {
  if (scene.build.is_trial) return "trial \"" + printable(scene.build.title) + "\"";
  return "build " + scene.text(scene.build.name);
}

std::vector<EntityId> bound_entities(const Finding& finding) {
  std::vector<EntityId> out = finding.binding->locals;
  for (const auto& list : finding.binding->lists) out.insert(out.end(), list.begin(), list.end());
  std::erase(out, EntityId{});
  drop_repeats(out, [](EntityId entity) { return mixed(entity.index, 0); });
  return out;
}

std::string entity_text(const Scene& scene, EntityId entity, bool with_place) {
  return bare_name(scene, entity, with_place, true);
}

std::string subject_text(const Scene& scene, const Finding& finding, bool faces, std::size_t most) {
  const std::vector<NameParts> parts = subject_parts(scene, finding, faces);
  std::string out = parts.empty() ? std::string() : text_of(scene, parts[0]);
  const std::size_t shown = parts.size() > most ? most - 1 : parts.size();
  for (std::size_t i = 1; i < shown; ++i) out += " + " + text_of(scene, parts[i]);
  if (shown < parts.size()) out += " + " + std::to_string(parts.size() - shown) + " more";
  return out;
}

std::uint64_t SubjectHash::of(const Finding& finding) {
  if (finding.binding == binding_) return hash_;
  binding_ = finding.binding;
  hash_ = 0;
  for (const NameParts& name : subject_parts(scene_, finding, faces_)) hash_ = hash_of_name(hash_, name);
  return hash_;
}

std::vector<std::string> subject_names(const Scene& scene, const Finding& finding) {
  std::vector<std::string> out;
  const auto add = [&](std::string name) {
    if (!name.empty() && std::find(out.begin(), out.end(), name) == out.end()) out.push_back(std::move(name));
  };
  for (const EntityId entity : bound_entities(finding)) {
    const Instance& instance = scene.build.instances[scene.build.entities[entity].instance];
    add(bare_name(scene, entity, true, true));
    add(bare_name(scene, entity, true, false));
    add(bare_name(scene, entity, false, true));
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

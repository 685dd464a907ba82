#include "resolve/build_faces.hpp"

#include <fmt/format.h>

#include "base/article.hpp"

namespace mm {

std::string FaceFinder::face_name(EntityId id, const Name& place) const {
  const Entity& entity = b_.build.entities[id];
  const Instance& instance = b_.build.instances[entity.instance];
  if (decl_.places.size() < 2 || instance.place != place.symbol || entity.face == no_reg)
    return entity_name(context_.model, b_.build, id, context_.names);
  return context_.text(instance.fit_name) + "." +
         context_.text(context_.model.kinds[instance.kind].faces[entity.face].name);
}
std::string FaceFinder::interface_name(InterfaceId id) const {
  return context_.text(context_.model.interfaces[id].name);
}
std::string FaceFinder::side_name(InterfaceId id, std::uint32_t side) const {
  return context_.text(context_.model.interfaces[id].sides[side].name);
}
std::string FaceFinder::side_of(const FaceChoice& choice) const {
  return fmt::format("the \"{}\" side of {}", side_name(choice.interface, choice.side),
                     interface_name(choice.interface));
}

std::uint32_t FaceFinder::instance_of(const Path& path, const Name& place, std::vector<Name>* rest) {
  const auto instances = find_instances(b_, path, rest);
  if (instances.empty()) return no_reg;
  if (rest->size() < path.names.size() - 1) return instances[0];  // the path names its place
  if (place.symbol) {
    const auto at = b_.fitted_at.find(BuildContext::key_at(path.names[0].symbol, place.symbol));
    if (at != b_.fitted_at.end()) return at->second;
  }
  if (instances.size() == 1 && (!place.symbol || !b_.build.instances[instances[0]].place))
    return instances[0];
  if (b_.fits_in_error.contains(path.names[0].symbol)) return no_reg;
  const std::string name = context_.text(path.names[0]);
  if (place.symbol) {
    mistakes_.add(Code::not_fitted, path.span, {name}, "",
                  Label{b_.build.instances[instances[0]].span, "fitted here"});
  } else {
    std::string at;
    for (const auto i : instances)
      at += (at.empty() ? "" : ", ") + context_.text(b_.build.instances[i].place);
    if (std::exchange(places_asked_, at) == at)
      return no_reg;  // one "at" answers for every face of the joint
    context_.messages.add(Code::say_which_place, path.span, {name}, "add \"at " + at + "\" or name one");
  }
  return no_reg;
}

std::vector<FaceChoice> FaceFinder::choices_of(const Path& path, const Name& place) {
  std::vector<Name> rest;
  const std::uint32_t index = instance_of(path, place, &rest);
  if (index == no_reg) return {};
  const Instance& instance = b_.build.instances[index];
  const KindDef& kind = context_.model.kinds[instance.kind];
  std::vector<FaceChoice> choices;
  for (std::uint32_t f = 0; f < kind.faces.size(); ++f) {
    if (!rest.empty() && kind.faces[f].name != rest[0].symbol) continue;
    choices.push_back({instance.faces[f], kind.faces[f].interface, kind.faces[f].side});
  }
  if (!choices.empty() && rest.size() <= 1) return choices;
  // A face in error is told where its kind declares it.
  if (choices.empty() && (rest.empty() ? context_.faces_in_error.contains(instance.kind)
                                       : context_.lacks_face(instance.kind, rest[0].symbol)))
    return {};
  if (rest.empty()) {
    mistakes_.add(Code::join_no_face, path.span, {context_.text(path.names[0])}, "its kind declares no face");
    return {};
  }
  if (rest.size() == path.names.size() - 1 && b_.place_hand.contains(rest[0].symbol)) {
    if (!b_.fits_in_error.contains(path.names[0].symbol))
      context_.messages.add(Code::not_fitted, path.span,
                            {context_.text(path.names[0]), " at " + context_.text(rest[0])});
    return {};
  }
  std::vector<std::string_view> known;
  for (const auto& face : kind.faces) known.push_back(context_.names.text(face.name));
  context_.unknown("face of " + with_article(context_.text(kind.name)),
                   rest.size() > 1 && !choices.empty() ? rest[1] : rest[0], known);
  return {};
}

void FaceFinder::which_face(const Path& path, const Name& place, const std::vector<FaceChoice>& choices) {
  constexpr std::size_t most_named = 12;
  std::string list;
  for (std::size_t i = 0; i < choices.size() && i < most_named; ++i)
    list += (list.empty() ? "" : ", ") + face_name(choices[i].entity, place);
  if (choices.size() > most_named) list += fmt::format(" and {} more", choices.size() - most_named);
  mistakes_.add(Code::join_which_face, path.span, {context_.text(path.names[0]), list}, "name the face");
}

std::string FaceFinder::goes_with(const FaceChoice& choice, const FaceChoice& joined,
                                  const Name& place) const {
  const InterfaceDef& interface = context_.model.interfaces[choice.interface];
  std::string sides, faces;
  for (std::uint32_t s = 0; s < interface.sides.size(); ++s)
    if (s != choice.side)
      sides += fmt::format("{}\"{}\"", sides.empty() ? "" : " or ", side_name(choice.interface, s));
  const Instance& other = b_.build.instances[b_.build.entities[joined.entity].instance];
  const auto& offered = context_.model.kinds[other.kind].faces;
  for (std::uint32_t f = 0; f < offered.size(); ++f)
    if (offered[f].interface == choice.interface && offered[f].side != choice.side)
      faces += (faces.empty() ? ", as " : " or ") + face_name(other.faces[f], place);
  return fmt::format("with {} goes the {} side of {}{}", face_name(choice.entity, place), sides,
                     interface_name(choice.interface), faces.empty() ? "" : faces + " is");
}

}  // namespace mm

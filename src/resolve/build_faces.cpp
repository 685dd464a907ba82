#include "resolve/build_faces.hpp"

#include <fmt/format.h>

namespace mm {

std::string FaceFinder::face_name(const FaceChoice& choice) const {
  return entity_name(context_.model, b_.build, choice.entity, context_.names);
}
std::string FaceFinder::interface_name(InterfaceId id) const {
  return context_.text(context_.model.interfaces[id].name);
}
std::string FaceFinder::side_name(InterfaceId id, std::uint32_t side) const {
  return context_.text(context_.model.interfaces[id].sides[side].name);
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
    Message& message =
        context_.messages.add(Code::not_fitted, path.span, {name, " at " + context_.text(place)});
    message.labels.push_back({b_.build.instances[instances[0]].span, "fitted here"});
  } else {
    std::string at;
    for (const auto i : instances)
      at += (at.empty() ? "" : ", ") + context_.text(b_.build.instances[i].place);
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
    context_.messages.add(Code::join_no_face, path.span, {context_.text(path.names[0])},
                          "its kind declares no face");
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
  context_.unknown("face of a " + context_.text(kind.name),
                   rest.size() > 1 && !choices.empty() ? rest[1] : rest[0], known);
  return {};
}

void FaceFinder::which_face(const Path& path, const std::vector<FaceChoice>& choices) {
  constexpr std::size_t most_named = 12;
  std::string list;
  for (std::size_t i = 0; i < choices.size() && i < most_named; ++i)
    list += (list.empty() ? "" : ", ") + face_name(choices[i]);
  if (choices.size() > most_named) list += fmt::format(" and {} more", choices.size() - most_named);
  context_.messages.add(Code::join_which_face, path.span, {context_.text(path.names[0]), list},
                        "name the face");
}

}  // namespace mm

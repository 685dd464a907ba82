// Joints: which faces are meant, which interface they share, and whether every side has what it needs.
#include <fmt/format.h>

#include <algorithm>
#include <unordered_set>

#include "resolve/build_faces.hpp"

namespace mm {

namespace {

class Joiner : FaceFinder {
 public:
  Joiner(BuildContext& b, const JoinDecl& decl) : FaceFinder(b, decl) {}

  void run() {
    std::vector<Name> places = decl_.places;
    if (places.empty()) places.push_back({Symbol::none(), decl_.span});
    for (const auto& place : places) {
      if (place.symbol && !b_.place_hand.contains(place.symbol)) {
        unknown_place(b_, place, decl_.places);
        continue;
      }
      mistakes_.at(place.symbol);
      if (decl_.interface)
        block_form(place);
      else
        sum_form(place);
    }
    mistakes_.tell();
  }

 private:
  bool take(Joint& joint, const FaceChoice& choice, const Path& path, const Name& place) {
    Entity& entity = b_.build.entities[choice.entity];
    if (entity.joint != no_reg) {
      mistakes_.add(Code::face_joined_twice, path.span, {face_name(choice.entity, place)}, "",
                    Label{b_.build.joints[entity.joint].span, "first joined here"});
      return false;
    }
    for (const auto& side : joint.sides)
      if (std::find(side.begin(), side.end(), choice.entity) != side.end()) {
        mistakes_.add(Code::face_joined_twice, path.span, {face_name(choice.entity, place)});
        return false;
      }
    const Fit& fit = b_.build.fits[b_.build.instances[entity.instance].fit];
    if (context_.model.interfaces[joint.interface].sides[choice.side].many && fit.each > 1) {
      const std::string part = context_.text(b_.build.parts[fit.candidates[0]].name);
      mistakes_.add(
          Code::join_of_pieces, path.span, {context_.text(path.names[0])},
          fmt::format("fit each piece under a name of its own, as fit one: {0}  fit two: {0}", part));
      return false;
    }
    joint.sides[choice.side].push_back(choice.entity);
    return true;
  }

  void finish(Joint joint, const Name& place) {
    const InterfaceDef& interface = context_.model.interfaces[joint.interface];
    bool good = true;
    // A side with two faces explains the one that has none.
    const bool overfull = std::any_of(joint.sides.begin(), joint.sides.end(), [&](const auto& side) {
      return side.size() > 1 && !interface.sides[static_cast<std::size_t>(&side - joint.sides.data())].many;
    });
    for (std::uint32_t s = 0; s < interface.sides.size(); ++s) {
      if (interface.sides[s].many || joint.sides[s].size() == 1) continue;
      if (joint.sides[s].empty() && overfull) continue;
      if (joint.sides[s].empty())
        mistakes_.add(Code::join_side_missing, decl_.span,
                      {interface_name(joint.interface), side_name(joint.interface, s)});
      else
        mistakes_.add(Code::join_same_side, decl_.span,
                      {side_name(joint.interface, s), interface_name(joint.interface),
                       face_name(joint.sides[s][0], place), face_name(joint.sides[s][1], place)},
                      other_sides(joint.interface, s));
      good = false;
    }
    if (!good) return;
    if (decl_.label) joint.label = decl_.label->symbol;
    joint.place = place.symbol;
    const auto index = static_cast<std::uint32_t>(b_.build.joints.size());
    for (const auto& side : joint.sides) {
      for (const auto entity : side) {
        b_.build.entities[entity].joint = index;
        if (!joint.place) joint.place = b_.build.instances[b_.build.entities[entity].instance].place;
      }
    }
    joint.span = decl_.span;
    b_.build.joints.push_back(std::move(joint));
  }

  std::string other_sides(InterfaceId interface, std::uint32_t side) const {
    std::string others;
    for (std::uint32_t s = 0; s < context_.model.interfaces[interface].sides.size(); ++s)
      if (s != side) others += (others.empty() ? "" : ", ") + side_name(interface, s);
    return fmt::format("the \"{}\" side is joined to: {}", side_name(interface, side), others);
  }

  void block_form(const Name& place) {
    auto found = context_.interfaces.find(decl_.interface->symbol);
    if (found == context_.interfaces.end()) {
      context_.unknown_in("interface", *decl_.interface, context_.interfaces);
      return;
    }
    const InterfaceDef& interface = context_.model.interfaces[found->second];
    Joint joint;
    joint.interface = found->second;
    joint.sides.resize(interface.sides.size());
    bool good = true;
    for (const auto& fill : decl_.fills) {
      std::uint32_t side = no_reg;
      std::vector<std::string_view> known;
      for (std::uint32_t s = 0; s < interface.sides.size(); ++s) {
        known.push_back(context_.names.text(interface.sides[s].name));
        if (interface.sides[s].name == fill.side.symbol) side = s;
      }
      if (side == no_reg) {
        context_.unknown("side of " + interface_name(joint.interface), fill.side, known);
        for (const auto& path : fill.faces)
          (void)choices_of(path, place);  // what is wrong with these is told too
        good = false;
        continue;
      }
      joint.sides[side].reserve(fill.faces.size());
      for (const auto& path : fill.faces) {
        std::vector<FaceChoice> choices = choices_of(path, place);
        if (choices.empty()) {
          good = false;
          continue;
        }
        const FaceChoice first = choices[0];
        std::erase_if(choices,
                      [&](const FaceChoice& c) { return c.interface != joint.interface || c.side != side; });
        // A part whose other faces of this side are taken already means the free one.
        if (choices.size() > 1)
          std::erase_if(choices,
                        [&](const FaceChoice& c) { return b_.build.entities[c.entity].joint != no_reg; });
        if (choices.size() == 1) {
          good = take(joint, choices[0], path, place) && good;
          continue;
        }
        good = false;
        if (choices.empty() && first.entity && b_.build.entities[first.entity].face != no_reg &&
            path.names.size() > 1)
          mistakes_.add(Code::join_other_side, path.span,
                        {face_name(first.entity, place), side_of(first), context_.text(fill.side),
                         interface_name(joint.interface)});
        else if (choices.empty())
          mistakes_.add(Code::join_no_face, path.span, {context_.text(path.names[0])},
                        fmt::format("a face for the \"{}\" side of {} is wanted", context_.text(fill.side),
                                    interface_name(joint.interface)));
        else
          which_face(path, place, choices);
      }
    }
    if (good) finish(std::move(joint), place);
  }

  void sum_form(const Name& place) {
    std::vector<std::vector<FaceChoice>> choices;
    for (const auto& path : decl_.faces) choices.push_back(choices_of(path, place));
    if (std::any_of(choices.begin(), choices.end(), [](const auto& list) { return list.empty(); })) return;
    // The interface: of a face that is named outright, else the one that all have a face of.
    InterfaceId interface;
    std::size_t fixed = choices.size();
    for (std::size_t i = 0; i < choices.size(); ++i) {
      if (choices[i].size() != 1) continue;
      if (!interface) {
        interface = choices[i][0].interface;
        fixed = i;
      } else if (choices[i][0].interface != interface) {
        const auto& a = choices[fixed][0];
        const auto& c = choices[i][0];
        mistakes_.add(Code::join_interfaces_differ, decl_.span,
                      {face_name(a.entity, place), side_of(a), face_name(c.entity, place), side_of(c)},
                      goes_with(a, c, place) + "; " + goes_with(c, a, place));
        return;
      }
    }
    if (!interface) {
      std::vector<InterfaceId> shared;
      for (const auto& choice : choices[0]) {
        const bool everywhere = std::all_of(choices.begin(), choices.end(), [&](const auto& list) {
          return std::any_of(list.begin(), list.end(),
                             [&](const FaceChoice& c) { return c.interface == choice.interface; });
        });
        if (everywhere && std::find(shared.begin(), shared.end(), choice.interface) == shared.end())
          shared.push_back(choice.interface);
      }
      if (shared.size() != 1) {
        if (shared.empty())
          mistakes_.add(Code::join_no_face, decl_.faces[0].span, {context_.text(decl_.faces[0].names[0])});
        else
          which_face(decl_.faces[0], place, choices[0]);
        return;
      }
      interface = shared[0];
    }
    Joint joint;
    joint.interface = interface;
    const InterfaceDef& def = context_.model.interfaces[interface];
    joint.sides.resize(def.sides.size());
    bool good = true;
    // Named faces first; a part alone then takes a side that is still empty.
    for (const bool named : {true, false}) {
      for (std::size_t i = 0; i < choices.size(); ++i) {
        if ((choices[i].size() == 1) != named) continue;
        std::vector<FaceChoice> list = choices[i];
        std::erase_if(list, [&](const FaceChoice& c) {
          return c.interface != interface ||
                 (!named && (b_.build.entities[c.entity].joint != no_reg ||
                             (!def.sides[c.side].many && !joint.sides[c.side].empty())));
        });
        if (list.size() == 1) {
          good = take(joint, list[0], decl_.faces[i], place) && good;
        } else {
          if (list.empty())
            mistakes_.add(Code::join_no_face, decl_.faces[i].span, {context_.text(decl_.faces[i].names[0])},
                          "its faces are of other interfaces, or joined already");
          else
            which_face(decl_.faces[i], place, list);
          good = false;
        }
      }
    }
    if (good) finish(std::move(joint), place);
  }
};

}  // namespace

void add_joins(BuildContext& b) {
  FirstNames labels;
  b.build.joints.reserve(b.decl.joins.size());  // or more, one a place
  for (const auto& decl : b.decl.joins) {
    if (decl.label) labels.declare(b.context, "joint", *decl.label);
    Joiner(b, decl).run();
  }
}

}  // namespace mm

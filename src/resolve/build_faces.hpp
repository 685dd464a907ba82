// Which face of which instance a path in a join means.
#pragma once
#include "resolve/build_context.hpp"
#include "resolve/join_mistakes.hpp"

namespace mm {

/// A face that a path could mean.
struct FaceChoice {
  EntityId entity;
  InterfaceId interface;
  std::uint32_t side = 0;
};

class FaceFinder {
 public:
  FaceFinder(BuildContext& b, const JoinDecl& decl)
      : b_(b), context_(b.context), decl_(decl), mistakes_(b.context, decl) {}

 protected:
  /// Without the place where the join has several and this is the one that is looked at.
  std::string face_name(EntityId entity, const Name& place) const;
  /// "the "pin" side of pinned"
  std::string side_of(const FaceChoice& choice) const;
  std::string interface_name(InterfaceId id) const;
  std::string side_name(InterfaceId id, std::uint32_t side) const;
  /// The one instance that a path means at a place; no_reg after an error.
  std::uint32_t instance_of(const Path& path, const Name& place, std::vector<Name>* rest);
  /// Faces that a path could mean; empty after an error.
  std::vector<FaceChoice> choices_of(const Path& path, const Name& place);
  void which_face(const Path& path, const Name& place, const std::vector<FaceChoice>& choices);
  /// What would go with this face: the other sides of its interface, and such faces of the part it was joined
  /// to.
  std::string goes_with(const FaceChoice& choice, const FaceChoice& joined, const Name& place) const;

  BuildContext& b_;
  Context& context_;
  const JoinDecl& decl_;
  JoinMistakes mistakes_;
  std::string places_asked_;  // by the message that a face of this joint got
};

}  // namespace mm

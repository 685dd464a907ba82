// Which face of which instance a path in a join means.
#pragma once
#include "resolve/build_context.hpp"

namespace mm {

/// A face that a path could mean.
struct FaceChoice {
  EntityId entity;
  InterfaceId interface;
  std::uint32_t side = 0;
};

class FaceFinder {
 public:
  explicit FaceFinder(BuildContext& b) : b_(b), context_(b.context) {}

 protected:
  std::string face_name(const FaceChoice& choice) const;
  std::string interface_name(InterfaceId id) const;
  std::string side_name(InterfaceId id, std::uint32_t side) const;
  /// The one instance that a path means at a place; no_reg after an error.
  std::uint32_t instance_of(const Path& path, const Name& place, std::vector<Name>* rest);
  /// Faces that a path could mean; empty after an error.
  std::vector<FaceChoice> choices_of(const Path& path, const Name& place);
  void which_face(const Path& path, const std::vector<FaceChoice>& choices);

  BuildContext& b_;
  Context& context_;
};

}  // namespace mm

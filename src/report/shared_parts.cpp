// One physical part is in one place: candidates that several slots want.
#include <algorithm>
#include <map>

#include "report/summary.hpp"
#include "report/values.hpp"

namespace mm {

namespace {

/// The most pieces that its sheet may mean; one where it does not say. None: without end.
std::optional<Rational> pieces_there(const Scene& scene, std::uint32_t part) {
  if (!scene.build.parts[part].quantity_stated) return Rational(1);
  for (const Instance& instance : scene.build.instances)
    for (const Version& version : instance.versions) {
      if (version.part != part || !version.part_cells) continue;
      const auto first = version.part_cells.index;
      const Given* given =
          given_of(scene, CellId{first + static_cast<std::uint32_t>(PartProperty::quantity)});
      if (given == nullptr || given->exact.empty) return Rational(1);
      if (given->exact.hi_infinite) return std::nullopt;
      return given->exact.hi_value;
    }
  return Rational(1);
}

}  // namespace

Rational pieces_of(const Fit& fit) { return fit.each * std::max<std::size_t>(fit.instances.size(), 1); }

std::vector<SharedPart> parts_in_several_slots(const Scene& scene) {
  std::map<std::uint32_t, SharedPart> by_part;
  for (std::uint32_t f = 0; f < scene.build.fits.size(); ++f) {
    const Fit& fit = scene.build.fits[f];
    for (const std::uint32_t part : fit.candidates) {
      SharedPart& shared = by_part[part];
      shared.part = part;
      if (fit.candidates.size() == 1)
        shared.always += pieces_of(fit);
      else
        shared.slots.push_back(f);
    }
  }
  std::vector<SharedPart> out;
  for (auto& [part, shared] : by_part) {
    if (shared.slots.size() < 2) continue;
    const auto there = pieces_there(scene, part);
    if (!there) continue;
    shared.there = *there;
    Rational wanted = shared.always;
    for (const std::uint32_t slot : shared.slots) wanted += pieces_of(scene.build.fits[slot]);
    if (shared.there < wanted) out.push_back(std::move(shared));
  }
  return out;
}

}  // namespace mm

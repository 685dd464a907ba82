// One physical part is in one place: candidates that several slots want.
#include <algorithm>
#include <map>

#include "report/summary.hpp"
#include "report/values.hpp"

namespace mm {

namespace {

/// Where the sheet of every part begins, of those that stand somewhere.
std::vector<CellId> first_cells(const Build& build) {
  std::vector<CellId> out(build.parts.size());
  for (const Instance& instance : build.instances)
    for (std::size_t v = 0; v < instance.versions; ++v) {
      CellId& first = out[build.part_of(instance, v)];
      if (!first) first = instance.sheet(v);
    }
  return out;
}

struct Stock {
  Rational least = 1;
  std::optional<Rational> most = Rational(1);  // none: without end
};

/// One where the part's sheet does not say.
Stock stock_of(const Scene& scene, CellId first) {
  if (!first) return {};
  const CellId cell{first.index + static_cast<std::uint32_t>(PartProperty::quantity)};
  const Given* given = given_of(scene, cell);
  if (given == nullptr) return {};
  if (given->exact.empty || (scene.build.cells[cell].flags & cell_missing) != 0) return {0, std::nullopt};
  Stock stock{given->exact.lo_infinite ? Rational(0) : given->exact.lo_value, std::nullopt};
  if (!given->exact.hi_infinite) stock.most = given->exact.hi_value;
  return stock;
}

}  // namespace

Rational pieces_of(const Fit& fit) { return fit.each * std::max<std::size_t>(fit.instances.size(), 1); }

std::vector<SharedPart> parts_in_several_slots(const Scene& scene) {
  std::vector<std::uint32_t> slots_of(scene.build.parts.size(), 0);
  for (const Fit& fit : scene.build.fits)
    for (const std::uint32_t part : fit.candidates) slots_of[part] += fit.candidates.size() > 1 ? 1 : 0;
  std::map<std::uint32_t, SharedPart> by_part;
  for (std::uint32_t f = 0; f < scene.build.fits.size(); ++f) {
    const Fit& fit = scene.build.fits[f];
    for (const std::uint32_t part : fit.candidates) {
      if (slots_of[part] < 2) continue;
      SharedPart& shared = by_part[part];
      shared.part = part;
      if (fit.candidates.size() == 1)
        shared.always += pieces_of(fit);
      else
        shared.slots.push_back(f);
    }
  }
  std::vector<SharedPart> out;
  if (by_part.empty()) return out;
  const std::vector<CellId> first = first_cells(scene.build);
  for (auto& [part, shared] : by_part) {
    const Stock stock = stock_of(scene, first[part]);
    shared.wanted = shared.always;
    for (const std::uint32_t slot : shared.slots) shared.wanted += pieces_of(scene.build.fits[slot]);
    shared.there = stock.most;
    shared.surely = stock.most && *stock.most < shared.wanted;
    if (stock.least < shared.wanted) out.push_back(std::move(shared));
  }
  return out;
}

}  // namespace mm

#include "report/json_values.hpp"

#include <nlohmann/json.hpp>

namespace mm {

JsonValues::JsonValues(const Scene& scene) : scene_(&scene), numbers_(scene.build.cells.size(), none) {}

void JsonValues::add(const Finding& finding) {
  for (const Case& c : finding.cases) {
    for (const CellId cell : c.outcome.reads) {
      std::uint32_t& number = numbers_[cell.index];
      if (number != none || !home_of(*scene_, cell)) continue;
      number = static_cast<std::uint32_t>(cells_.size());
      cells_.push_back(cell);
    }
  }
}

Json JsonValues::value(std::size_t number) const { return cell_json(*scene_, cells_[number]); }

Json JsonValues::numbers(std::span<const CellId> cells) const {
  Json out = Json::array();
  for (const CellId cell : cells)
    if (numbers_[cell.index] != none) out.push_back(numbers_[cell.index]);
  return out;
}

}  // namespace mm

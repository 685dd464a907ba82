// The values that findings of a JSON report read: each is told once for a build, and findings name it by its
// number.
#pragma once
#include <span>
#include <vector>

#include "report/json_parts.hpp"

namespace mm {

class JsonValues {
 public:
  explicit JsonValues(const Scene& scene);
  /// Those that the finding reads, in order of first use.
  void add(const Finding& finding);

  std::size_t size() const { return cells_.size(); }
  Json value(std::size_t number) const;
  /// Of cells of findings that were added; those that belong to nothing that could be named are left out.
  Json numbers(std::span<const CellId> cells) const;

 private:
  static constexpr std::uint32_t none = no_reg;

  const Scene* scene_;
  std::vector<CellId> cells_;
  std::vector<std::uint32_t> numbers_;  // by cell
};

}  // namespace mm

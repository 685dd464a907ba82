// Which waiver stands over a requirement at one joint or match.
#pragma once
#include <map>
#include <utility>

#include "evaluate/results.hpp"

namespace mm {

/// `build` must outlive it.
class Waivers {
 public:
  explicit Waivers(const Build& build);

  /// The waiver (index into Build::waivers) that names the requirement, here or everywhere; of several the
  /// one that lasts longest, and of those the first. no_reg: none.
  std::uint32_t over(const RequirementDef& requirement, const Binding& binding) const;

 private:
  /// The one that counts of those with the same subject: a fit, a joint or, by none, everything.
  struct OfRequirement {
    std::map<Symbol, std::uint32_t> by_name;                      // at whatever place
    std::map<std::pair<Symbol, Symbol>, std::uint32_t> by_place;  // none: at all places
  };
  std::uint32_t better(std::uint32_t one, std::uint32_t other) const;

  const Build& build_;
  std::map<Symbol, OfRequirement> by_requirement_;
};

}  // namespace mm

// Which waiver stands over a requirement at one joint or match.
#pragma once
#include <map>
#include <vector>

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
  using BySubject =
      std::map<Symbol, std::vector<std::uint32_t>>;  // of a fit, a joint or, by none, everything

  void add(const BySubject& waivers, Symbol subject, std::vector<std::uint32_t>& to) const;
  void add(const BySubject& waivers, EntityId entity, std::vector<std::uint32_t>& to) const;

  const Build& build_;
  std::map<Symbol, BySubject> by_requirement_;
};

}  // namespace mm

// What is told of a verdict that was given up: how far off it may be.
#pragma once
#include "report/phrases.hpp"

namespace mm {

/// The unit that the outcome's precision is told in.
Unit precision_unit(const Scene& scene, const RequirementDef& requirement, const Outcome& outcome);

/// "it fits with at most 3 mm to spare, or is at most 2.1e-15 mm short", rounded outward; "" where no
/// precision is stated.
std::string precision_text(const Scene& scene, const RequirementDef& requirement, const Outcome& outcome);

/// "not decided at the precision that the checker works to", with that.
std::string not_decided_text(const Scene& scene, const RequirementDef& requirement, const Outcome& outcome);
/// Of one that takes too much work: "It takes more work than one check may do; ...", with that.
std::string work_limit_text(const Scene& scene, const RequirementDef& requirement, const Outcome& outcome);

}  // namespace mm

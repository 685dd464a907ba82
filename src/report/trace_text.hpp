// The reason tree in lines: each step of the requirement with what it came to.
#pragma once
#include "report/page.hpp"
#include "report/phrases.hpp"

namespace mm {

void tell_trace(Page& page, const Scene& scene, const TraceNode& tree, const RequirementDef& requirement);

}  // namespace mm

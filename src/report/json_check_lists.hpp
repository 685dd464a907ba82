// What `check --json` tells beside its findings: slots, planned work, values to find out. Each names the
// findings that it is about by their place in "findings".
#pragma once
#include "report/check_sections.hpp"
#include "report/json_parts.hpp"

namespace mm {

Json slots_json(const CheckView& view, const std::vector<SlotView>& slots);
Json reworks_json(const CheckView& view);
Json find_out_json(const CheckView& view);

}  // namespace mm

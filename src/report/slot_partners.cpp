// Candidates that go only with such as do not fit, and all that are out of the race.
#include <algorithm>
#include <unordered_map>

#include "report/slots.hpp"

namespace mm {

void mark_unfit(std::vector<SlotView>& slots) {
  std::unordered_map<std::uint32_t, const SlotView*> slot_of;
  for (const SlotView& slot : slots)
    if (!slot.candidates.empty()) slot_of.emplace(slot.fit, &slot);
  for (bool changed = true; changed;) {
    changed = false;
    for (SlotView& slot : slots)
      for (Against& against : slot.candidates)
        for (Partners& partners : against.partners) {
          const auto other = slot_of.find(partners.fit);
          if (other == slot_of.end()) continue;
          bool some = false;
          partners.unfit.assign(partners.worst.size(), false);
          for (std::uint32_t c = 0; c < partners.worst.size(); ++c) {
            partners.unfit[c] = other->second->candidates[c].is_out();
            some = some || (partners.worst[c] != Partners::Standing::does_not && !partners.unfit[c]);
          }
          changed = changed || (!some && !against.is_out());
          against.alone = against.alone || !some;
        }
  }
}

FallenChoices fallen(const std::vector<SlotView>& slots) {
  FallenChoices out;
  for (const SlotView& slot : slots) {
    const auto is_out = [](const Against& against) { return against.is_out(); };
    if (std::all_of(slot.candidates.begin(), slot.candidates.end(), is_out)) continue;
    for (std::uint32_t c = 0; c < slot.candidates.size(); ++c)
      if (is_out(slot.candidates[c])) out.emplace(slot.fit, c);
  }
  return out;
}

}  // namespace mm

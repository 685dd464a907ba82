// What speaks for and against each candidate of a slot, by the requirements whose verdict turns on it.
#pragma once
#include "report/check_sections.hpp"
#include "report/partners.hpp"

namespace mm {

/// One requirement, told once for all places where it comes to the same.
struct SlotLine {
  std::string what;  // "centre_bore with hub (by 1.6 mm)"
  std::string name;  // "centre_bore"
  std::string size;  // "by 1.6 mm", or ""
  std::vector<Symbol> places = {};
  std::vector<std::size_t> findings = {};  // indices into Results::findings
};

struct Against {
  std::vector<SlotLine> no, should, after, breaks, doubts, may_settle, unknown, setting, also, caution, with,
      waived;
  std::vector<Partners> partners;   // where it turns on what else is chosen; `with` has the rest
  Grade weakest = Grade::measured;  // of the verdicts that pass
  bool alone = false;               // none of what it goes with fits
  bool is_out() const { return !no.empty() || alone; }
  /// Nothing but cautions.
  bool clean() const {
    return no.empty() && should.empty() && after.empty() && breaks.empty() && doubts.empty() &&
           may_settle.empty() && unknown.empty() && setting.empty() && also.empty() && with.empty() &&
           partners.empty() && waived.empty();
  }
};

struct SlotView {
  std::uint32_t fit = 0;            // index into Build::fits
  bool matters = false;             // some verdict turns on it
  std::vector<Against> candidates;  // empty unless it matters
  std::vector<std::string> common;  // "unknown: lug_circle": what is open or wrong whichever is chosen
  /// Each has a conflict.
  bool hopeless() const;
};

std::vector<SlotView> slot_views(const CheckView& view);
/// Who goes only with what does not fit does not fit itself.
void mark_unfit(std::vector<SlotView>& slots);
/// Candidates that do not fit, in slots that have another one that may.
FallenChoices fallen(const std::vector<SlotView>& slots);

/// "does not fit", "may do", "nothing against it", "nothing against it, on a claim".
std::string verdict_of(const Against& against);
/// "60 GBP", where the candidate's sheet states a price; "" else.
std::string price_of(const Scene& scene, std::uint32_t fit, std::uint32_t candidate);

}  // namespace mm

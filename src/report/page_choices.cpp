// Slots with what each candidate comes to.
#include <algorithm>
#include <set>

#include "report/slots.hpp"

namespace mm {

namespace {

constexpr std::size_t most_named = 3;  // requirements of a candidate on the short page

/// Lines of the same places are told together: "centre_bore, nut_seat at front_left; bead_diameter at
/// rear_left".
void tell_lines(Page& page, const CheckView& view, std::string_view head, const std::vector<SlotLine>& lines,
                Tone tone) {
  if (lines.empty()) return;
  std::vector<std::string> groups, told;
  for (const SlotLine& line : lines) {
    const std::string places = places_text(view.scene, line.places);
    if (std::find(told.begin(), told.end(), places) != told.end()) continue;
    told.push_back(places);
    std::vector<std::string> items;
    for (const SlotLine& other : lines)
      if (places_text(view.scene, other.places) == places) items.push_back(other.what);
    groups.push_back(listed(items, ", ") + places);
  }
  std::string text(head);
  for (std::size_t i = 0; i < groups.size(); ++i) text += (i == 0 ? " " : "; ") + groups[i];
  page.text(text, 4, 8, tone, head.size());
}

Tone tone_of(const Against& against) {
  return against.is_out() ? Tone::bad : against.clean() ? Tone::good : Tone::doubtful;
}

/// "w1", "w1 (60 GBP)"
std::string head_of(const CheckView& view, std::uint32_t fit, std::uint32_t candidate) {
  const std::string price = price_of(view.scene, fit, candidate);
  return candidate_name(view.scene, fit, candidate) + (price.empty() ? "" : " (" + price + ")");
}

void tell_at_length(Page& page, const CheckView& view, const std::string& head, const Against& against) {
  page.text(head + ": " + verdict_of(against), 2, 4, tone_of(against), head.size());
  tell_lines(page, view, "no:", against.no, Tone::bad);
  tell_lines(page, view, "fails a should:", against.should, Tone::bad);
  tell_lines(page, view, "planned work:", against.after, Tone::doubtful);
  tell_lines(page, view, "planned work spoils:", against.breaks, Tone::bad);
  tell_lines(page, view, "planned work puts in doubt:", against.doubts, Tone::doubtful);
  tell_lines(page, view, "planned work may settle:", against.may_settle, Tone::doubtful);
  tell_lines(page, view, "unknown:", against.unknown, Tone::doubtful);
  tell_lines(page, view, "to be set:", against.setting, Tone::doubtful);
  tell_lines(page, view, "needs also:", against.also, Tone::doubtful);
  tell_lines(page, view, "caution:", against.caution, Tone::doubtful);
  for (const Partners& partners : against.partners)
    page.text("goes " + partners_text(view.scene, partners), 4, 8, Tone::doubtful);
  tell_lines(page, view, "may be:", against.with, Tone::doubtful);
  tell_lines(page, view, "waived:", against.waived, Tone::doubtful);
}

/// "centre_bore (by 1.6 mm), nut_seat and 2 more": each requirement once, its first size standing for it.
std::string short_list(const std::vector<SlotLine>& lines, bool sized) {
  std::vector<std::string> items, seen;
  for (const SlotLine& line : lines) {
    if (std::find(seen.begin(), seen.end(), line.name) != seen.end()) continue;
    seen.push_back(line.name);
    if (seen.size() <= most_named)
      items.push_back(line.name + (sized && !line.size.empty() ? " (" + line.size + ")" : ""));
  }
  if (seen.size() > most_named) items.push_back(std::to_string(seen.size() - most_named) + " more");
  return listed(items);
}

std::size_t names_in(const std::vector<SlotLine>& lines) {
  std::set<std::string> names;
  for (const SlotLine& line : lines) names.insert(line.name);
  return names.size();
}

/// What stands in the way; of one that may do, what is still open.
void tell_short(Page& page, const Scene& scene, const std::string& head, const Against& against) {
  std::string line = head + ": ";
  const auto add = [&](std::string_view what, const std::vector<SlotLine>& lines, bool sized = false) {
    if (!lines.empty()) line += "; " + std::string(what) + short_list(lines, sized);
  };
  if (!against.no.empty()) {
    line += counted(names_in(against.no), "conflict") + ": " + short_list(against.no, true);
  } else {
    line += verdict_of(against);
    add("fails a should: ", against.should, true);
    add("unknown: ", against.unknown);
    add("planned work settles: ", against.after);
    add("planned work spoils: ", against.breaks);
    add("planned work puts in doubt: ", against.doubts);
    add("planned work may settle: ", against.may_settle);
    add("to be set: ", against.setting);
    add("needs also: ", against.also);
    add("caution: ", against.caution);
    for (const Partners& partners : against.partners) line += "; goes " + partners_text(scene, partners);
    add("turns on the other choices: ", against.with);
    add("waived: ", against.waived, true);
  }
  page.text(clipped(line, 4, 2, 6), 2, 6, tone_of(against), head.size());
}

}  // namespace

void choices_section(Page& page, const CheckView& view, const std::vector<SlotView>& slots) {
  const Scene& scene = view.scene;
  if (slots.empty()) return;
  page.heading("CHOICES STILL OPEN", Tone::doubtful);
  for (const SlotView& slot : slots) {
    const Fit& fit = scene.build.fits[slot.fit];
    std::string line = scene.text(fit.name) + ", one of " + std::to_string(fit.candidates.size()) + " (" +
                       where(scene, fit.span, true) + ")";
    if (!slot.matters) line += ": the same verdicts with each";
    if (slot.hopeless()) line += ": each of them has a conflict";
    page.text(line, 1, 4, slot.hopeless() ? Tone::bad : Tone::plain);
    for (std::uint32_t c = 0; c < slot.candidates.size(); ++c) {
      const std::string head = head_of(view, slot.fit, c);
      if (view.all)
        tell_at_length(page, view, head, slot.candidates[c]);
      else
        tell_short(page, scene, head, slot.candidates[c]);
    }
    if (!slot.common.empty()) {
      std::string common;
      for (const std::string& each : slot.common) common += (common.empty() ? "" : "; ") + each;
      common = "whichever is chosen: " + common;
      page.text(view.all ? common : clipped(common, 2, 2, 6), 2, 6);
    }
  }
}

}  // namespace mm

// Slots with what each candidate comes to, and planned reworks.
#include <algorithm>
#include <map>

#include "report/check_sections.hpp"

namespace mm {

namespace {

/// What a requirement comes to for one candidate of one slot, over the candidates of the other slots it
/// reads.
struct Standing {
  const Option* best = nullptr;
  bool varies = false;
};

Standing standing(const Summary& summary, std::uint32_t fit, std::uint32_t candidate) {
  Standing out;
  for (const Option& option : summary.options) {
    const auto& choices = option.choices;
    if (std::find(choices.begin(), choices.end(), std::pair(fit, candidate)) == choices.end()) continue;
    if (out.best != nullptr && out.best->word != option.word) out.varies = true;
    if (out.best == nullptr || option.word < out.best->word) out.best = &option;
  }
  return out;
}

/// Two options that differ in this slot alone come to different words.
bool turns_on(const Summary& summary, std::uint32_t fit) {
  std::map<std::vector<std::pair<std::uint32_t, std::uint32_t>>, Word> seen;
  for (const Option& option : summary.options) {
    auto others = option.choices;
    const auto own =
        std::find_if(others.begin(), others.end(), [&](const auto& c) { return c.first == fit; });
    if (own == others.end()) continue;
    others.erase(own);
    if (seen.emplace(std::move(others), option.word).first->second != option.word) return true;
  }
  return false;
}

/// " with adapter_a1": the one other part of a joint that stands at no place.
std::string partner(const Scene& scene, const Finding& finding, std::uint32_t fit) {
  if (finding.binding.joint == no_reg || shared_place(scene, finding)) return {};
  std::vector<Symbol> others;
  for (const EntityId entity : bound_entities(finding)) {
    const Instance& instance = scene.build.instances[scene.build.entities[entity].instance];
    const bool known = std::find(others.begin(), others.end(), instance.fit_name) != others.end();
    if (instance.fit != fit && !known) others.push_back(instance.fit_name);
  }
  return others.size() == 1 ? " with " + scene.text(others[0]) : std::string();
}

struct Line {
  std::string what;  // "centre_bore (by 1.6 mm)"
  std::vector<Symbol> places;
};

/// Adds a place to the line that says the same.
void add_line(std::vector<Line>& lines, std::string what, Symbol place) {
  for (Line& line : lines) {
    if (line.what != what) continue;
    if (place) line.places.push_back(place);
    return;
  }
  lines.push_back({std::move(what), {}});
  if (place) lines.back().places.push_back(place);
}

/// Lines of the same places are told together: "centre_bore, nut_seat at front_left; bead_diameter at
/// rear_left".
void tell_lines(Page& page, const CheckView& view, std::string_view head, const std::vector<Line>& lines,
                Tone tone) {
  if (lines.empty()) return;
  std::vector<std::string> groups, told;
  for (const Line& line : lines) {
    const std::string places = places_text(view.scene, line.places);
    if (std::find(told.begin(), told.end(), places) != told.end()) continue;
    told.push_back(places);
    std::vector<std::string> items;
    for (const Line& other : lines)
      if (places_text(view.scene, other.places) == places) items.push_back(other.what);
    groups.push_back(listed(items, ", ") + places);
  }
  std::string text(head);
  for (std::size_t i = 0; i < groups.size(); ++i) text += (i == 0 ? " " : "; ") + groups[i];
  page.text(text, 4, 8, tone, head.size());
}

void tell_candidate(Page& page, const CheckView& view, std::uint32_t fit, std::uint32_t candidate) {
  const Scene& scene = view.scene;
  std::vector<Line> no, should, after, unknown, other, with;
  for (const Summary& summary : view.summaries) {
    if (summary.word != Word::choice || summary.waived || !turns_on(summary, fit)) continue;
    const Standing stands = standing(summary, fit, candidate);
    if (stands.best == nullptr) continue;
    const Finding& finding = view.finding(summary);
    const RequirementDef& requirement = scene.requirement(finding);
    const Symbol place = shared_place(scene, finding);
    const std::string what = scene.text(requirement.name) + partner(scene, finding, fit);
    if (stands.varies) {
      add_line(with, what + " (turns on the other choices)", place);
      continue;
    }
    std::string margin = margin_text(scene, requirement, finding.cases[stands.best->now].outcome);
    if (margin.starts_with("misses ")) margin.erase(0, 7);
    const std::string sized = margin.empty() ? what : what + " (" + margin + ")";
    switch (stands.best->word) {
      case Word::conflict:
        add_line(summary.weight == Weight::should ? should : no, sized, place);
        break;
      case Word::breaks:
      case Word::pending:
        add_line(after, what + " (" + stands.best->text + ")", place);
        break;
      case Word::unknown:
        add_line(unknown, sized, place);
        break;
      case Word::setting:
      case Word::caution:
      case Word::needs_also:
        add_line(other, what + " (" + stands.best->text + ")", place);
        break;
      default:
        break;
    }
  }
  const bool clean =
      no.empty() && should.empty() && after.empty() && unknown.empty() && other.empty() && with.empty();
  const std::string verdict = !no.empty() ? "does not fit" : clean ? "nothing against it" : "may do";
  const std::string name = candidate_name(scene, fit, candidate);
  page.text(name + ": " + verdict, 2, 4,
            !no.empty() ? Tone::bad
            : clean     ? Tone::good
                        : Tone::doubtful,
            name.size());
  tell_lines(page, view, "no:", no, Tone::bad);
  tell_lines(page, view, "should not:", should, Tone::bad);
  tell_lines(page, view, "work:", after, Tone::doubtful);
  tell_lines(page, view, "unknown:", unknown, Tone::doubtful);
  tell_lines(page, view, "also:", other, Tone::doubtful);
  tell_lines(page, view, "may be:", with, Tone::doubtful);
}

}  // namespace

void choices_section(Page& page, const CheckView& view) {
  const Scene& scene = view.scene;
  bool any = false;
  for (std::uint32_t f = 0; f < scene.build.fits.size(); ++f) {
    const Fit& fit = scene.build.fits[f];
    if (fit.candidates.size() < 2) continue;
    const bool matters = std::any_of(view.summaries.begin(), view.summaries.end(), [&](const Summary& s) {
      return s.word == Word::choice && turns_on(s, f);
    });
    if (!any) page.heading("CHOICES STILL OPEN", Tone::doubtful);
    any = true;
    page.text(scene.text(fit.name) + ", one of " + std::to_string(fit.candidates.size()) + " (" +
                  where(scene, fit.span, true) + ")" +
                  (matters ? "" : ": no requirement tells the candidates apart"),
              1, 4);
    if (!matters) continue;
    for (std::uint32_t c = 0; c < fit.candidates.size(); ++c) tell_candidate(page, view, f, c);
  }
}

void planned_work_section(Page& page, const CheckView& view) {
  const Scene& scene = view.scene;
  auto wanted = view.with(Word::breaks);
  for (const Summary* summary : view.with(Word::pending)) wanted.push_back(summary);
  if (wanted.empty()) return;
  page.heading("PLANNED WORK", Tone::doubtful);
  for (const Rework& rework : scene.build.reworks) {
    if (rework.done) continue;
    std::string line = scene.text(rework.name);
    if (!rework.doc.empty()) line += ": " + printable(rework.doc);
    if (!rework.by.empty()) line += ", planned by " + printable(rework.by);
    page.text(line + " (" + where(scene, rework.span, true) + ")", 1, 4);
  }
  for (const Entry& entry : fold(scene, view.owners, wanted))
    page.text(entry_head(scene, entry, false) + marks(view, *entry.first) + ": " + entry.first->text, 2, 6,
              entry.first->word == Word::breaks ? Tone::bad : Tone::doubtful,
              scene.text(scene.requirement(view.finding(*entry.first)).name).size());
}

}  // namespace mm

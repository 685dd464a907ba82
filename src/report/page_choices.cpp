// Slots with what each candidate comes to.
#include <algorithm>
#include <map>
#include <set>

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
  if (finding.binding->joint == no_reg || shared_place(scene, finding)) return {};
  std::vector<Symbol> others;
  for (const EntityId entity : bound_entities(finding)) {
    const Instance& instance = scene.build.instances[scene.build.entities[entity].instance];
    const bool known = std::find(others.begin(), others.end(), instance.fit_name) != others.end();
    if (instance.fit != fit && !known) others.push_back(instance.fit_name);
  }
  return others.size() == 1 ? " with " + scene.text(others[0]) : std::string();
}

struct Line {
  std::string what;  // "centre_bore with hub (by 1.6 mm)"
  std::string name;  // "centre_bore"
  std::string size;  // "by 1.6 mm", or ""
  std::vector<Symbol> places = {};
};

constexpr std::size_t most_named = 3;  // requirements of a candidate on the short page

/// Adds a place to the line that says the same.
void add_line(std::vector<Line>& lines, Line added, Symbol place) {
  for (Line& line : lines) {
    if (line.what != added.what) continue;
    if (place) line.places.push_back(place);
    return;
  }
  lines.push_back(std::move(added));
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

/// What each requirement that turns on a slot comes to for one candidate.
struct Against {
  std::vector<Line> no, should, after, unknown, other, with;
  bool clean() const {
    return no.empty() && should.empty() && after.empty() && unknown.empty() && other.empty() && with.empty();
  }
};

Against against(const CheckView& view, std::uint32_t fit, std::uint32_t candidate) {
  const Scene& scene = view.scene;
  Against out;
  auto& [no, should, after, unknown, other, with] = out;
  for (const Summary& summary : view.summaries) {
    if (summary.word != Word::choice || summary.waived || !turns_on(summary, fit)) continue;
    const Standing stands = standing(summary, fit, candidate);
    if (stands.best == nullptr) continue;
    const Finding& finding = view.finding(summary);
    const RequirementDef& requirement = scene.requirement(finding);
    const Symbol place = shared_place(scene, finding);
    const std::string name = scene.text(requirement.name), what = name + partner(scene, finding, fit);
    if (stands.varies) {
      add_line(with, {what + " (turns on the other choices)", name, {}}, place);
      continue;
    }
    std::string margin = margin_text(scene, requirement, finding.cases[stands.best->now].outcome);
    if (margin.starts_with("misses ")) margin.erase(0, 7);
    const Line sized = {margin.empty() ? what : what + " (" + margin + ")", name, margin};
    const Line told = {what + " (" + stands.best->text + ")", name, stands.best->text};
    switch (stands.best->word) {
      case Word::conflict:
        add_line(summary.weight == Weight::should ? should : no, sized, place);
        break;
      case Word::breaks:
      case Word::pending:
        add_line(after, told, place);
        break;
      case Word::unknown:
        add_line(unknown, sized, place);
        break;
      case Word::setting:
      case Word::caution:
      case Word::needs_also:
        add_line(other, told, place);
        break;
      default:
        break;
    }
  }
  return out;
}

Tone tone_of(const Against& against) {
  return !against.no.empty() ? Tone::bad : against.clean() ? Tone::good : Tone::doubtful;
}

std::string_view verdict_of(const Against& against) {
  return !against.no.empty() ? "does not fit" : against.clean() ? "nothing against it" : "may do";
}

void tell_at_length(Page& page, const CheckView& view, const std::string& name, const Against& against) {
  const auto& [no, should, after, unknown, other, with] = against;
  page.text(name + ": " + std::string(verdict_of(against)), 2, 4, tone_of(against), name.size());
  tell_lines(page, view, "no:", no, Tone::bad);
  tell_lines(page, view, "should not:", should, Tone::bad);
  tell_lines(page, view, "work:", after, Tone::doubtful);
  tell_lines(page, view, "unknown:", unknown, Tone::doubtful);
  tell_lines(page, view, "also:", other, Tone::doubtful);
  tell_lines(page, view, "may be:", with, Tone::doubtful);
}

/// "centre_bore (by 1.6 mm), nut_seat and 2 more": each requirement once, its first size standing for it.
std::string short_list(const std::vector<Line>& lines, bool sized) {
  std::vector<std::string> items, seen;
  for (const Line& line : lines) {
    if (std::find(seen.begin(), seen.end(), line.name) != seen.end()) continue;
    seen.push_back(line.name);
    if (seen.size() <= most_named)
      items.push_back(line.name + (sized && !line.size.empty() ? " (" + line.size + ")" : ""));
  }
  if (seen.size() > most_named) items.push_back(std::to_string(seen.size() - most_named) + " more");
  return listed(items);
}

std::size_t names_in(const std::vector<Line>& lines) {
  std::set<std::string> names;
  for (const Line& line : lines) names.insert(line.name);
  return names.size();
}

/// What stands in the way; of one that may do, what is still open.
void tell_short(Page& page, const std::string& name, const Against& against) {
  std::string line = name + ": ";
  std::vector<std::string> open;
  const auto add = [&](std::string_view head, const std::vector<Line>& lines, bool sized) {
    if (!lines.empty()) open.push_back(std::string(head) + short_list(lines, sized));
  };
  if (!against.no.empty()) {
    line += counted(names_in(against.no), "conflict") + ": " + short_list(against.no, true);
  } else {
    line += verdict_of(against);
    add("should not: ", against.should, true);
    add("unknown: ", against.unknown, false);
    add("planned work: ", against.after, false);
    add("also: ", against.other, false);
    add("turns on the other choices: ", against.with, false);
    for (const std::string& item : open) line += "; " + item;
  }
  page.text(clipped(line, 3, 2, 6), 2, 6, tone_of(against), name.size());
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
    std::vector<Against> candidates;
    for (std::uint32_t c = 0; matters && c < fit.candidates.size(); ++c)
      candidates.push_back(against(view, f, c));
    const bool hopeless = matters && std::all_of(candidates.begin(), candidates.end(),
                                                 [](const Against& a) { return !a.no.empty(); });
    page.text(scene.text(fit.name) + ", one of " + std::to_string(fit.candidates.size()) + " (" +
                  where(scene, fit.span, true) + ")" +
                  (!matters   ? ": no requirement tells the candidates apart"
                   : hopeless ? ": each of them has a conflict"
                              : ""),
              1, 4, hopeless ? Tone::bad : Tone::plain);
    for (std::uint32_t c = 0; c < candidates.size(); ++c) {
      const std::string name = candidate_name(scene, f, c);
      if (view.all)
        tell_at_length(page, view, name, candidates[c]);
      else
        tell_short(page, name, candidates[c]);
    }
  }
}

}  // namespace mm

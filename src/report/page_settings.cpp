// What depends on a setting.
#include <algorithm>

#include "report/check_sections.hpp"
#include "report/settings_after.hpp"
#include "report/unknown_groups.hpp"

namespace mm {

namespace {

std::vector<std::string> knobs_of(const CheckView& view, const Outcome& outcome) {
  const Scene& scene = view.scene;
  std::vector<std::string> knobs;
  for (const CellId cell : outcome.reads) {
    const auto owner = home_of(view.scene, cell);
    if (!owner || (scene.build.cells[cell].flags & cell_adjustable) == 0) continue;
    const Given* given = given_of(scene, cell);
    std::string knob = attribute_name(scene, *owner) + (view.all ? " " + as_written(scene, cell) : "") +
                       (given != nullptr ? " (" + where(scene, given->span, true) + ")" : "");
    if (std::find(knobs.begin(), knobs.end(), knob) == knobs.end()) knobs.push_back(std::move(knob));
  }
  return knobs;
}

void tell_at_length(Page& page, const CheckView& view, const Entry& entry, const Outcome& outcome) {
  const Scene& scene = view.scene;
  const Finding& finding = view.finding(*entry.first);
  const RequirementDef& requirement = scene.requirement(finding);
  page.text(short_head(view, entry) + marks(view, *entry.first), 1, 4, Tone::doubtful,
            scene.text(requirement.name).size());
  const std::string rule = expression_text(scene, requirement.test_expr);
  if (display_width(rule) <= 120) page.text(rule, 4, 6);
  const std::string why = reason_and_remedy(view, finding, entry.first->shown_case);
  if (!why.empty()) page.text(why, 4, 4);
  const auto knobs = knobs_of(view, outcome);
  if (!knobs.empty()) page.text("set by " + listed(knobs), 4, 6);
  const auto told = [&](const Outcome& its) {
    const std::string fitting = setting_text(scene, its);
    return fitting.empty() ? no_setting_text(scene, its) : fitting;
  };
  const Outcome* after = settings_after(finding, *entry.first);
  page.text((after == nullptr ? "" : "as it is: ") + told(outcome), 4, 6);
  if (after != nullptr) page.text("after the planned work: " + told(*after), 4, 6);
  const std::string others = others_text(scene, outcome.blames, {});
  if (!others.empty()) page.text("the right setting turns on " + others, 4, 6);
}

/// What one knob, or several together, set.
struct KnobGroup {
  std::vector<std::string> knobs;
  std::vector<std::string> names;        // of the requirements, with their windows
  std::vector<const Outcome*> outcomes;  // all of them
  std::vector<std::string> open;         // the requirements for which no range of settings is sure
};

std::vector<SettingWindow> common(const std::vector<SettingWindow>& some,
                                  const std::vector<SettingWindow>& others) {
  std::vector<SettingWindow> out;
  for (const SettingWindow& a : some)
    for (const SettingWindow& b : others) {
      SettingWindow both = a;
      if (outdoes(b.from, both.from, true, true)) both.from = b.from;
      if (outdoes(b.to, both.to, false, true)) both.to = b.to;
      if (!both.empty()) out.push_back(std::move(both));
    }
  return out;
}

/// Values that are not sure and that the settings turn on: of the first requirement with no sure setting, or
/// of all, each one's most influential first.
std::string turns_on(const Scene& scene, const KnobGroup& group) {
  std::vector<Blame> blames;
  std::size_t most = 0;
  for (const Outcome* outcome : group.outcomes) {
    if (outcome->settings.empty()) return others_text(scene, outcome->blames, {});
    most = std::max(most, outcome->blames.size());
  }
  for (std::size_t i = 0; i < most; ++i)
    for (const Outcome* outcome : group.outcomes)
      if (i < outcome->blames.size()) blames.push_back(outcome->blames[i]);
  return others_text(scene, blames, {});
}

/// "27.5 mm to 28.5 mm surely fits all of them", or that nothing does and what to measure; "" where the
/// windows are not of one value.
std::string shared_window(const CheckView& view, const KnobGroup& group) {
  if (group.outcomes.size() < 2 || !group.open.empty()) return {};
  const std::string whole = group.outcomes.size() == 2 ? "both" : "all of them";
  Outcome shared = *group.outcomes[0];
  for (const Outcome* outcome : group.outcomes) {
    if (outcome->settings[0].cell != group.outcomes[0]->settings[0].cell) return {};
    shared.settings = common(shared.settings, outcome->settings);
  }
  if (shared.settings.empty()) {
    const std::string others = turns_on(view.scene, group);
    return "no one setting is known to fit " + whole + " for sure" +
           (others.empty() ? others : "; measure first: " + others);
  }
  return setting_text(view.scene, shared) + " " + whole;
}

void tell_short(Page& page, const CheckView& view, const KnobGroup& group) {
  const Scene& scene = view.scene;
  std::string line =
      listed(group.knobs) + (group.knobs.size() == 1 ? " sets " : " set ") + listed(group.names);
  const std::string all = shared_window(view, group);
  if (!all.empty()) line += ": " + all;
  if (!group.open.empty()) {
    const bool some = group.open.size() != group.names.size();
    line += ". " + sentence(no_setting_text(scene, *group.outcomes[0], some ? listed(group.open) : ""));
    line.pop_back();
    const std::string others = turns_on(scene, group);
    if (!others.empty()) line += "; measure first: " + others;
  }
  page.text(clipped(line, 4, 1, 4), 1, 4, Tone::doubtful, line.find(' '));
}

}  // namespace

void settings_section(Page& page, const CheckView& view) {
  const Scene& scene = view.scene;
  const auto entries = fold(scene, view.with(Word::setting));
  if (entries.empty()) return;
  page.heading("DEPENDS ON THE SETTING", Tone::doubtful);
  std::vector<KnobGroup> groups;
  for (const Entry& entry : entries) {
    const Finding& finding = view.finding(*entry.first);
    const Outcome& outcome = finding.cases[entry.first->shown_case].outcome;
    if (view.all) {
      tell_at_length(page, view, entry, outcome);
      continue;
    }
    const std::vector<std::string> knobs = knobs_of(view, outcome);
    auto group = std::find_if(groups.begin(), groups.end(), [&](const auto& g) { return g.knobs == knobs; });
    if (group == groups.end()) group = groups.insert(groups.end(), {knobs, {}, {}, {}});
    const std::string plain = scene.text(scene.requirement(finding).name);
    const std::string fitting = setting_text(scene, outcome);
    const Outcome* after = settings_after(finding, *entry.first);
    const std::string then = after == nullptr ? std::string() : setting_text(scene, *after);
    std::string windows = fitting;
    if (after != nullptr)
      windows = "as it is " + (fitting.empty() ? "none is known to fit" : fitting) +
                ", after the planned work " + (then.empty() ? "none is known to" : then);
    const std::string name = windows.empty() ? plain : plain + " (" + windows + ")";
    const auto add = [](std::vector<std::string>& names, const std::string& added) {
      if (std::find(names.begin(), names.end(), added) == names.end()) names.push_back(added);
    };
    add(group->names, name);
    if (fitting.empty() || (after != nullptr && then.empty())) add(group->open, plain);
    group->outcomes.push_back(&outcome);
    if (after != nullptr) group->outcomes.push_back(after);
  }
  for (const KnobGroup& group : groups) tell_short(page, view, group);
}

}  // namespace mm

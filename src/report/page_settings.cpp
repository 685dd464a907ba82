// What depends on a setting.
#include <algorithm>
#include <optional>

#include "report/check_sections.hpp"
#include "report/options.hpp"
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

/// Of one option: what fits as it is, and after the planned work where other settings do then.
struct Windows {
  const Outcome* now = nullptr;  // null: with it nothing is to be set
  const Outcome* after = nullptr;
  bool later = false;  // it is a matter of the setting only after the planned work
};

Windows windows_of(const Finding& finding, const Summary& summary, const Option& option,
                   std::size_t case_index) {
  const Outcome& outcome = finding.cases[case_index].outcome;
  if (outcome.verdict != Verdict::setting) return {};
  if (summary.options.empty()) return {&outcome};
  return {&outcome, settings_after(finding, option), case_index != option.now};
}

/// "as it is 1 mm to 2 mm surely fits, after the planned work none is known to"; "" where no more is known
/// than that they are to be set, unless that is wanted in words.
std::string windows_text(const Scene& scene, const Windows& windows, bool always) {
  const std::string now = setting_text(scene, *windows.now);
  if (windows.later && (always || !now.empty()))
    return "after the planned work " + (now.empty() ? no_setting_text(scene, *windows.now) : now);
  if (windows.after == nullptr) return now.empty() && always ? no_setting_text(scene, *windows.now) : now;
  const std::string then = setting_text(scene, *windows.after);
  return "as it is " + (now.empty() ? "none is known to fit" : now) + ", after the planned work " +
         (then.empty() ? "none is known to" : then);
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
  const auto told = [&](const Option& option, std::size_t case_index) {
    const Windows windows = windows_of(finding, *entry.first, option, case_index);
    return windows.now == nullptr ? std::string() : windows_text(scene, windows, true);
  };
  page.text(by_option(scene, *entry.first, told), 4, 6);
  const std::string others = others_text(scene, outcome.blames, {});
  if (!others.empty()) page.text("the right setting turns on " + others, 4, 6);
}

void add_once(std::vector<std::string>& names, const std::string& added) {
  if (std::find(names.begin(), names.end(), added) == names.end()) names.push_back(added);
}

/// What one knob, or several together, set.
struct KnobGroup {
  std::vector<std::string> knobs;
  std::vector<std::string> names;        // of the requirements, with their windows
  std::vector<const Outcome*> outcomes;  // all of them, with each candidate
  bool by_candidate = false;             // some of them differ with the candidate
  std::vector<std::string> open;         // the requirements for which no range of settings is sure
  std::vector<std::string> at_times;     // of those that set something with some candidates only
  std::vector<std::pair<std::string, const Outcome*>> with = {};  // these, by candidate
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

/// The settings that surely fit all that the knob sets with any candidate; null where those are not of one
/// value, or of some none is sure.
std::optional<Outcome> all_together(const KnobGroup& group) {
  if (group.outcomes.empty() || !group.open.empty()) return std::nullopt;
  Outcome shared = *group.outcomes[0];
  for (const Outcome* outcome : group.outcomes) {
    if (outcome->settings[0].cell != group.outcomes[0]->settings[0].cell) return std::nullopt;
    shared.settings = common(shared.settings, outcome->settings);
  }
  return shared;
}

/// "27.5 mm to 28.5 mm surely fits all of them", or that nothing does and what to measure; "" where there is
/// nothing to put together.
std::string shared_window(const CheckView& view, const KnobGroup& group) {
  const std::optional<Outcome> shared = all_together(group);
  if (!shared || group.outcomes.size() < 2) return {};
  const std::size_t told =
      group.by_candidate ? group.names.size() : std::max<std::size_t>(2, group.names.size());
  const std::string whole = told == 1 ? "" : told == 2 ? " both" : " all of them";
  const std::string chosen = group.by_candidate ? ", whichever is chosen" : "";
  if (!shared->settings.empty()) return setting_text(view.scene, *shared) + whole + chosen;
  const std::string others = turns_on(view.scene, group);
  return "no one setting is known to fit" + whole + " for sure" + chosen +
         (others.empty() ? others : "; measure first: " + others);
}

/// "with some candidates also leg (5 MPa to 7 MPa surely fits, with big)", and that one setting does not do
/// for all then.
std::string at_times_text(const KnobGroup& group) {
  if (group.names.empty() || group.at_times.empty()) return {};
  std::string out = "with some candidates also " + listed(group.at_times);
  const std::optional<Outcome> always = all_together(group);
  std::vector<std::string> apart;
  for (const auto& [name, outcome] : group.with) {
    const bool together = !always || always->settings.empty() || outcome->settings.empty() ||
                          outcome->settings[0].cell != always->settings[0].cell ||
                          !common(always->settings, outcome->settings).empty();
    if (!together) add_once(apart, name);
  }
  if (!apart.empty()) out += "; with " + listed(apart, " or ") + " no one setting is known to fit them all";
  return out;
}

void tell_short(Page& page, const CheckView& view, const KnobGroup& group) {
  const Scene& scene = view.scene;
  std::string line = listed(group.knobs) + (group.knobs.size() == 1 ? " sets " : " set ") +
                     listed(group.names.empty() ? group.at_times : group.names);
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
  const std::string at_times = at_times_text(group);
  if (!at_times.empty()) page.text(clipped(at_times, 3, 4, 6), 4, 6);
}

/// Findings that are a matter of the setting with some candidate.
std::vector<const Summary*> with_settings(const CheckView& view) {
  std::vector<const Summary*> out;
  for (const Summary& summary : view.summaries) {
    const bool some = summary.word == Word::choice &&
                      std::any_of(summary.options.begin(), summary.options.end(),
                                  [](const Option& option) { return option.word == Word::setting; });
    if (!summary.waived && (summary.word == Word::setting || some)) out.push_back(&summary);
  }
  return out;
}

void take(const CheckView& view, const Summary& summary, std::vector<KnobGroup>& groups) {
  const Scene& scene = view.scene;
  const Finding& finding = view.finding(summary);
  std::vector<const Outcome*> outcomes;
  std::vector<std::string> names;  // of the options they are of
  bool sure = true, any_sure = false;
  auto [windows, apart] = told_apart(scene, summary, [&](const Option& option, std::size_t case_index) {
    const Windows its = windows_of(finding, summary, option, case_index);
    if (its.now == nullptr) return std::string();
    for (const Outcome* outcome : {its.now, its.after}) {
      if (outcome == nullptr) continue;
      outcomes.push_back(outcome);
      names.push_back(option_name(scene, option));
      sure = sure && !outcome->settings.empty();
      any_sure = any_sure || !outcome->settings.empty();
    }
    return windows_text(scene, its, summary.options.size() > 1);
  });
  if (!any_sure) windows.clear(), apart = false;
  if (outcomes.empty()) return;
  const std::vector<std::string> knobs = knobs_of(view, *outcomes[0]);
  auto group = std::find_if(groups.begin(), groups.end(), [&](const auto& g) { return g.knobs == knobs; });
  if (group == groups.end()) group = groups.insert(groups.end(), {knobs, {}, {}, false, {}, {}});
  const std::string plain = scene.text(scene.requirement(finding).name);
  const std::string with = only_with(scene, summary, Word::setting);
  const std::string told = windows + (apart ? "" : with);
  const std::string name =
      told.empty() ? plain : plain + " (" + (windows.empty() ? told.substr(2) : told) + ")";
  if (summary.word == Word::choice) {
    add_once(group->at_times, name);
    for (std::size_t i = 0; i < outcomes.size(); ++i) group->with.emplace_back(names[i], outcomes[i]);
    return;
  }
  add_once(group->names, name);
  if (!sure) add_once(group->open, plain);
  group->by_candidate = group->by_candidate || apart;
  group->outcomes.insert(group->outcomes.end(), outcomes.begin(), outcomes.end());
}

}  // namespace

void settings_section(Page& page, const CheckView& view) {
  const auto entries = fold(view.scene, with_settings(view));
  if (entries.empty()) return;
  page.heading("DEPENDS ON THE SETTING", Tone::doubtful);
  std::vector<KnobGroup> groups;
  for (const Entry& entry : entries) {
    if (!view.all) {
      take(view, *entry.first, groups);
      continue;
    }
    const Finding& finding = view.finding(*entry.first);
    tell_at_length(page, view, entry, finding.cases[entry.first->shown_case].outcome);
  }
  for (const KnobGroup& group : groups) tell_short(page, view, group);
}

}  // namespace mm

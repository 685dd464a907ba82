#include "report/knob_groups.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "report/options.hpp"
#include "report/settings_after.hpp"
#include "report/values.hpp"

namespace mm {

namespace {

using State = Setting::State;
using SettingWindows = std::vector<SettingWindow>;

void add_once(std::vector<std::string>& names, const std::string& added) {
  if (std::find(names.begin(), names.end(), added) == names.end()) names.push_back(added);
}

/// By name; with the place where one name stands for several.
std::vector<std::string> knobs_of(const CheckView& view, const Outcome& outcome) {
  const Scene& scene = view.scene;
  std::vector<std::pair<CellId, CellHome>> cells;
  for (const CellId cell : outcome.reads) {
    const auto home = home_of(scene, cell);
    if (!home || (scene.build.cells[cell].flags & cell_adjustable) == 0) continue;
    if (std::none_of(cells.begin(), cells.end(), [&](const auto& c) { return c.first == cell; }))
      cells.emplace_back(cell, *home);
  }
  std::sort(cells.begin(), cells.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<std::string> knobs;
  for (const auto& [cell, home] : cells) {
    std::string knob = attribute_name(scene, home);
    const auto alike = std::count_if(cells.begin(), cells.end(), [&, own = knob](const auto& c) {
      return attribute_name(scene, c.second) == own;
    });
    if (alike > 1) knob = attribute_name(scene, home, true);
    if (view.all) knob += " " + as_written(scene, cell);
    if (const Given* given = given_of(scene, cell)) knob += " (" + where(scene, given->span, true) + ")";
    add_once(knobs, knob);
  }
  return knobs;
}

/// "1 mm to 2 mm surely fits", or the like that none is known to.
std::string window_or_none(const Scene& scene, const Outcome& outcome) {
  const std::string windows = setting_text(scene, outcome);
  return windows.empty() ? no_setting_text(scene, outcome) : windows;
}

/// What the knobs set with one candidate: "as it is 1 mm surely fits, after the planned work none is known
/// to".
std::string option_text(const Scene& scene, const std::vector<const Setting*>& its, bool always) {
  const bool any =
      std::any_of(its.begin(), its.end(), [](const Setting* s) { return !s->outcome->settings.empty(); });
  if (!any && !always) return {};
  if (its.size() == 2) {
    const std::string now = setting_text(scene, *its[0]->outcome),
                      then = setting_text(scene, *its[1]->outcome);
    if (any)
      return "as it is " + (now.empty() ? "none is known to fit" : now) + ", after the planned work " +
             (then.empty() ? "none is known to" : then);
  }
  const Setting& setting = *its[0];
  const std::string head = its.size() == 2 || setting.state == State::always ? ""
                           : setting.state == State::later                   ? "after the planned work "
                                                                             : "as it is ";
  return head + window_or_none(scene, *setting.outcome);
}

SettingWindows common(const SettingWindows& some, const SettingWindows& others) {
  SettingWindows out;
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
  for (const KnobGroup::Member& member : group.members) {
    const Outcome& outcome = *member.setting.outcome;
    if (outcome.settings.empty()) return others_text(scene, outcome.blames, {});
    most = std::max(most, outcome.blames.size());
  }
  for (std::size_t i = 0; i < most; ++i)
    for (const KnobGroup::Member& member : group.members)
      if (i < member.setting.outcome->blames.size()) blames.push_back(member.setting.outcome->blames[i]);
  return others_text(scene, blames, {});
}

bool counts(const Setting& setting, State state) {
  return setting.state == State::always || setting.state == state;
}

/// The settings that surely fit all that the knob sets in a state with any candidate; none where those are
/// not of one value, or of some none is sure.
std::optional<Outcome> all_together(const Scene& scene, const KnobGroup& group, State state) {
  std::optional<Outcome> shared;
  if (!group.open.empty()) return shared;
  for (const KnobGroup::Member& member : group.members) {
    const Outcome& outcome = *member.setting.outcome;
    if (!counts(member.setting, state)) continue;
    if (!shared) {
      shared = outcome;
      continue;
    }
    if (!shared->settings.empty() && !outcome.settings.empty() &&
        !same_value(scene, outcome.settings[0].cell, shared->settings[0].cell))
      return std::nullopt;
    shared->settings = common(shared->settings, outcome.settings);
  }
  return shared;
}

/// With each choice there is a setting that surely fits all: of requirements that turn on the same slots.
bool sure_once_chosen(const KnobGroup& group, State state) {
  std::map<std::string, SettingWindows> shared;
  std::map<std::string, std::set<std::string>> of;
  for (const auto& [setting, requirement] : group.members) {
    if (!counts(setting, state)) continue;
    const auto [at, added] = shared.emplace(setting.candidate, setting.outcome->settings);
    if (!added) at->second = common(at->second, setting.outcome->settings);
    of[setting.candidate].insert(requirement);
  }
  return group.by_candidate && shared.size() > 1 &&
         std::all_of(of.begin(), of.end(), [&](const auto& o) { return o.second == of.begin()->second; }) &&
         std::none_of(shared.begin(), shared.end(), [](const auto& s) { return s.second.empty(); });
}

/// "27.5 mm to 28.5 mm surely fits both"
std::string shared_text(const Scene& scene, const KnobGroup& group, State state) {
  std::set<std::string> told;
  for (const auto& [setting, requirement] : group.members)
    if (counts(setting, state)) told.insert(requirement);
  const std::optional<Outcome> shared = all_together(scene, group, state);
  if (!shared) return {};
  const std::string whole = told.size() == 1 ? "" : told.size() == 2 ? " both" : " all of them";
  const std::string chosen = group.by_candidate ? ", whichever is chosen" : "";
  if (!shared->settings.empty()) return setting_text(scene, *shared) + whole + chosen;
  if (sure_once_chosen(group, state))
    return "no one setting fits" + whole + " for sure" + chosen + ": choose first, then set";
  const std::string others = turns_on(scene, group);
  return "no one setting is known to fit" + whole + " for sure" + chosen +
         (others.empty() ? others : "; measure first: " + others);
}

void take(const CheckView& view, const Summary& summary, std::vector<KnobGroup>& groups) {
  const Scene& scene = view.scene;
  const std::string plain = scene.text(scene.requirement(view.finding(summary)).name);
  const std::vector<Setting> settings = settings_of(view, summary);
  for (const std::vector<std::string>& knobs : knobs_of(settings)) {
    auto group = std::find_if(groups.begin(), groups.end(), [&](const auto& g) { return g.knobs == knobs; });
    if (group == groups.end()) group = groups.insert(groups.end(), KnobGroup{knobs});
    std::vector<Setting> its;
    std::set<std::string> candidates;
    for (const Setting& setting : settings)
      if (setting.knobs == knobs) {
        its.push_back(setting);
        candidates.insert(setting.candidate);
      }
    const bool at_times = summary.options.size() > candidates.size();
    const auto [windows, apart] = windows_text(scene, summary, its, knobs, at_times);
    const std::string name = windows.empty() ? plain : plain + " (" + windows + ")";
    if (at_times) {
      add_once(group->at_times, name);
      group->with.insert(group->with.end(), its.begin(), its.end());
      continue;
    }
    add_once(group->names, name);
    for (const Setting& setting : its) {
      if (setting.outcome->settings.empty()) add_once(group->open, plain);
      group->members.push_back({setting, name});
    }
    group->by_candidate = group->by_candidate || apart;
  }
}

}  // namespace

std::vector<Setting> settings_of(const CheckView& view, const Summary& summary) {
  const Finding& finding = view.finding(summary);
  std::vector<Setting> out;
  const auto add = [&](const Outcome& outcome, State state, const Option* option) {
    out.push_back({&outcome, state, option != nullptr ? option_name(view.scene, *option) : std::string(),
                   knobs_of(view, outcome), option});
  };
  if (summary.options.empty() && finding.cases[0].outcome.verdict == Verdict::setting)
    add(finding.cases[0].outcome, State::always, nullptr);
  for (const Option& option : summary.options) {
    const Outcome &now = finding.cases[option.now].outcome, &then = finding.cases[option.after].outcome;
    const bool is_now = now.verdict == Verdict::setting, is_then = then.verdict == Verdict::setting;
    if (is_now && passes(then.verdict)) continue;  // planned work makes it fit
    const bool same =
        option.now == option.after || (is_now && is_then && !differ_in_settings(view.scene, now, then));
    if (is_now) add(now, same ? State::always : State::as_is, &option);
    if (is_then && !same) add(then, State::later, &option);
  }
  return out;
}

std::vector<std::vector<std::string>> knobs_of(const std::vector<Setting>& settings) {
  std::vector<std::vector<std::string>> out;
  for (const Setting& setting : settings)
    if (std::find(out.begin(), out.end(), setting.knobs) == out.end()) out.push_back(setting.knobs);
  return out;
}

std::pair<std::string, bool> windows_text(const Scene& scene, const Summary& summary,
                                          const std::vector<Setting>& settings,
                                          const std::vector<std::string>& knobs, bool always) {
  const auto of = [&](const Option* option) {
    std::vector<const Setting*> its;
    for (const Setting& setting : settings)
      if (setting.knobs == knobs && setting.option == option) its.push_back(&setting);
    return its;
  };
  if (summary.options.empty()) return {option_text(scene, of(nullptr), always), false};
  const bool sure = std::any_of(settings.begin(), settings.end(), [&](const Setting& setting) {
    return setting.knobs == knobs && !setting.outcome->settings.empty();
  });
  if (!sure && !always) return {};
  std::vector<std::string> names;
  auto [text, apart] = told_apart(scene, summary, [&](const Option& option, std::size_t) {
    const auto its = of(&option);
    if (its.empty()) return std::string();
    names.push_back(option_name(scene, option));
    return option_text(scene, its, true);
  });
  if (!apart && names.size() < summary.options.size()) text += ", " + with_candidates(names);
  return {std::move(text), apart};
}

std::vector<KnobGroup> knob_groups(const CheckView& view, const std::vector<const Summary*>& summaries) {
  std::vector<KnobGroup> groups;
  for (const Summary* summary : summaries) take(view, *summary, groups);
  return groups;
}

std::string shared_text(const Scene& scene, const KnobGroup& group) {
  if (group.members.size() < 2) return {};
  std::optional<Outcome> now = all_together(scene, group, State::as_is),
                         then = all_together(scene, group, State::later);
  const bool planned = std::any_of(group.members.begin(), group.members.end(),
                                   [](const auto& member) { return member.setting.state != State::always; });
  std::string serves;
  if (planned && now && then) {
    now->settings = common(now->settings, then->settings);
    serves = setting_text(scene, *now);
    if (const auto fit = serves.find(" surely "); fit != std::string::npos)
      serves.replace(fit, std::string::npos, serves.ends_with("fits") ? " serves" : " serve");
    if (!serves.empty()) serves += " before and after it";
  }
  if (group.names.size() == 1 && !group.by_candidate) return serves;
  const std::string as_is = shared_text(scene, group, State::as_is);
  const std::string later = shared_text(scene, group, State::later);
  std::string out = as_is;
  if (as_is != later && !later.empty())
    out = (as_is.empty() ? "" : "as it is " + as_is + "; ") + "after the planned work " + later;
  return out + (serves.empty() || as_is == later ? "" : "; " + serves);
}

std::string at_times_text(const Scene& scene, const KnobGroup& group) {
  if (group.names.empty() || group.at_times.empty()) return {};
  std::string out = "with some candidates also " + listed(group.at_times);
  std::vector<std::string> apart;
  for (const Setting& setting : group.with) {
    const State state = setting.state == State::always ? State::as_is : setting.state;
    const std::optional<Outcome> always = all_together(scene, group, state);
    const SettingWindows& its = setting.outcome->settings;
    const bool together = !always || always->settings.empty() || its.empty() ||
                          !same_value(scene, its[0].cell, always->settings[0].cell) ||
                          !common(always->settings, its).empty();
    if (!together) add_once(apart, setting.candidate);
  }
  if (!apart.empty()) out += "; with " + listed(apart, " or ") + " no one setting is known to fit them all";
  return out;
}

std::string open_text(const Scene& scene, const KnobGroup& group) {
  if (group.open.empty()) return {};
  const bool some = group.open.size() != group.names.size();
  std::string out = ". " + sentence(no_setting_text(scene, *group.members[0].setting.outcome,
                                                    some ? listed(group.open) : ""));
  out.pop_back();
  const std::string others = turns_on(scene, group);
  return others.empty() ? out : out + "; measure first: " + others;
}

}  // namespace mm

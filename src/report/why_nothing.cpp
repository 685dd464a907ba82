// `why` asked for what no finding answers: what the words mean instead, or what was nearly meant.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "base/near_miss.hpp"
#include "messages/message.hpp"
#include "report/no_choice.hpp"
#include "report/page.hpp"
#include "report/values.hpp"
#include "report/why_page.hpp"

namespace mm {

namespace {

using NameSet = std::set<std::string>;
using Scenes = std::vector<Scene>;

constexpr std::size_t most_listed = 12;

std::string near_text(const std::string& wanted, const NameSet& known) {
  const std::string near = nearest_name(wanted, std::vector<std::string_view>(known.begin(), known.end()));
  return near.empty() ? std::string() : "; did you mean \"" + printable(near) + "\"?";
}

/// "a, b and c", or the first of many "and 30 more".
std::string listed_names(const NameSet& names) {
  std::vector<std::string> shown(names.begin(), names.end());
  const std::size_t more = shown.size() > most_listed ? shown.size() - most_listed : 0;
  shown.resize(shown.size() - more);
  if (more != 0) shown.push_back(std::to_string(more) + " more");
  return listed(shown);
}

template <class Matches>
NameSet requirements_where(const Scenes& scenes, Matches matches) {
  NameSet out;
  for (const Scene& scene : scenes)
    for (const Finding& finding : scene.results.findings) {
      const std::string name = scene.text(scene.requirement(finding).name);
      if (!out.contains(name) && matches(scene, finding)) out.insert(name);
    }
  return out;
}

/// What is judged on a part, a face, a place or a joint of this name.
NameSet judged_on(const Scenes& scenes, const std::vector<std::string>& subjects) {
  return requirements_where(scenes, [&](const Scene& scene, const Finding& finding) {
    const auto names = subject_names(scene, finding);
    return std::all_of(subjects.begin(), subjects.end(), [&](const std::string& subject) {
      return std::find(names.begin(), names.end(), subject) != names.end();
    });
  });
}

/// What reads a value of this name.
NameSet reads_of(const Scenes& scenes, const std::string& value) {
  if (value.find('.') == std::string::npos) return {};
  return requirements_where(scenes, [&](const Scene& scene, const Finding& finding) {
    for (const Case& one : finding.cases)
      for (const CellId cell : one.outcome.reads)
        if (const auto home = home_of(scene, cell))
          if (attribute_name(scene, *home) == value || attribute_name(scene, *home, true) == value)
            return true;
    return false;
  });
}

/// Of a rule or an interface of this name what it asks, with what it is; "" where there is none.
std::string asked_by(const Scenes& scenes, const std::string& owner) {
  if (scenes.empty()) return {};
  const Model& model = scenes[0].model();
  NameSet names;
  bool interface = false;
  for (const RequirementDef& requirement : model.requirements) {
    if (scenes[0].text(requirement.owner) != owner) continue;
    if (!requirement.interface && requirement.rule >= model.rules.size()) continue;  // of a trial
    interface = static_cast<bool>(requirement.interface);
    names.insert(scenes[0].text(requirement.name));
  }
  if (names.empty()) return {};
  return std::string(interface ? "an interface" : "a rule") + "; it asks for " + listed_names(names);
}

/// Several requirements, in one word or as a requirement and its subject.
bool are_requirements(const std::vector<std::string>& names, const NameSet& requirements) {
  return std::all_of(names.begin(), names.end(),
                     [&](const std::string& name) { return requirements.contains(name); });
}

/// What a word is that is no requirement; "" where it is nothing else either.
std::string other_meaning(const Scenes& scenes, const std::string& word) {
  const std::string head = "\"" + printable(word) + "\" is ";
  if (const NameSet names = judged_on(scenes, names_in(word)); !names.empty())
    return head + "no requirement; judged on it: " + listed_names(names);
  if (const std::string asked = asked_by(scenes, word); !asked.empty()) return head + asked;
  if (const NameSet names = reads_of(scenes, word); !names.empty())
    return head + "a value; it is read by " + listed_names(names);
  for (const Scene& scene : scenes) {
    if (scene.build.name && scene.text(scene.build.name) == word)
      return head + "a build; why takes a requirement";
    for (const Instance& instance : scene.build.instances)
      if (scene.text(instance.fit_name) == word) return head + "a fitted part on which nothing is judged";
  }
  return {};
}

std::string nothing_on(const Scenes& scenes, const WhyQuery& query, const NameSet& requirements) {
  const std::string asked = printable(query.requirement);
  NameSet subjects;
  for (const Scene& scene : scenes)
    for (std::string& name : known_subjects(scene, query.requirement)) subjects.insert(std::move(name));
  std::string subject, first_unknown;
  for (const std::string& one : query.subjects) {
    subject += (subject.empty() ? "" : " + ") + printable(one);
    if (first_unknown.empty() && !subjects.contains(one)) first_unknown = one;
  }
  if (are_requirements(query.subjects, requirements))
    return fmt::format("\"{}\" is a requirement too: ask for one at a time", subject);
  std::string near = first_unknown.empty() ? std::string() : near_text(first_unknown, subjects);
  if (near.empty() && !subjects.empty()) near = "; it is judged on " + listed_names(subjects);
  return fmt::format("\"{}\" is not judged on \"{}\"{}", asked, subject, near);
}

}  // namespace

std::vector<std::string> names_in(const std::string& text) {
  std::vector<std::string> out;
  for (std::size_t at = 0; at <= text.size();) {
    const std::size_t plus = std::min(text.find('+', at), text.size());
    std::string_view name = std::string_view(text).substr(at, plus - at);
    while (name.starts_with(' ')) name.remove_prefix(1);
    while (name.ends_with(' ')) name.remove_suffix(1);
    out.emplace_back(name);
    at = plus + 1;
  }
  return out;
}

std::string why_nothing_text(const Scenes& scenes, const WhyQuery& query) {
  NameSet requirements;
  bool known = false;
  for (const Scene& scene : scenes) {
    for (std::string& name : known_requirements(scene)) requirements.insert(std::move(name));
    known = known || !matching_findings(scene, {query.requirement, {}}).empty();
  }
  if (known) return nothing_on(scenes, query, requirements);
  const std::string asked = printable(query.requirement);
  if (const auto nothing = nothing_of_that_sort(query.requirement); !nothing.empty())
    return query.subjects.empty()
               ? std::string(nothing)
               : fmt::format("there is no \"{}\" on \"{}\"", asked, printable(listed(query.subjects, " + ")));
  if (!scenes.empty())
    if (std::string text = not_judged_text(scenes[0], query.requirement); !text.empty()) return text;
  std::vector<std::string> pieces(1);
  for (const char c : query.requirement)
    if (c != ',' && c != '+' && c != ' ')
      pieces.back() += c;
    else if (!pieces.back().empty())
      pieces.emplace_back();
  if (pieces.size() > 1 && are_requirements(pieces, requirements))
    return fmt::format("\"{}\" is {} requirements: ask for one at a time", asked, pieces.size());
  if (std::string text = other_meaning(scenes, query.requirement); !text.empty()) return text;
  return fmt::format("no rule or interface has a requirement \"{}\"{}", asked,
                     near_text(query.requirement, requirements));
}

}  // namespace mm

#include <fmt/format.h>

#include <algorithm>

#include "app/output.hpp"
#include "app/pipeline.hpp"
#include "app/verbs.hpp"
#include "base/near_miss.hpp"
#include "report/json_why.hpp"
#include "report/no_choice.hpp"
#include "report/page.hpp"
#include "report/why_page.hpp"

namespace mm {

namespace {

/// REQUIREMENT [on] [SUBJECT]
bool read_query(const std::vector<std::string>& words, WhyQuery& query) {
  query.requirement = words[0];
  if (words.size() == 1) return true;
  if (words[1] == "on") {
    if (words.size() != 3) return false;
    query.subject = words[2];
    return true;
  }
  query.subject = words[1];
  return words.size() == 2;
}

std::string near_text(const std::string& wanted, const std::vector<std::string>& known) {
  const std::vector<std::string_view> views(known.begin(), known.end());
  const std::string near = nearest_name(wanted, views);
  return near.empty() ? std::string() : "; did you mean \"" + near + "\"?";
}

/// The command line again, up to the requirement.
std::string command_of(const Options& options) {
  std::string out = "matchmark why " + options.file;
  for (const std::string& folder : options.rule_folders) out += " --rules " + folder;
  return out;
}

void complain_unknown(const std::vector<Scene>& scenes, const WhyQuery& query) {
  std::vector<std::string> requirements, subjects;
  bool requirement_known = false;
  const auto each_once = [](std::vector<std::string>& names) {
    std::sort(names.begin(), names.end());
    names.erase(std::unique(names.begin(), names.end()), names.end());
  };
  for (const Scene& scene : scenes) {
    for (std::string& name : known_requirements(scene)) requirements.push_back(std::move(name));
    for (std::string& name : known_subjects(scene, query.requirement)) subjects.push_back(std::move(name));
    requirement_known = requirement_known || !matching_findings(scene, {query.requirement, {}}).empty();
  }
  each_once(requirements);
  each_once(subjects);
  if (!requirement_known) {
    const std::string_view nothing = nothing_of_that_sort(query.requirement);
    std::string known = scenes.empty() ? std::string() : not_judged_text(scenes[0], query.requirement);
    if (!nothing.empty())
      known = query.subject.empty() ? std::string(nothing)
                                    : fmt::format("there is no \"{}\" on \"{}\"",
                                                  printable(query.requirement), printable(query.subject));
    if (known.empty())
      known = fmt::format("no rule or interface has a requirement \"{}\"{}", printable(query.requirement),
                          near_text(query.requirement, requirements));
    complain(known);
    return;
  }
  std::string near = near_text(query.subject, subjects);
  if (near.empty() && !subjects.empty()) {
    if (subjects.size() > 12) subjects.resize(12);
    near = "; it is judged on " + listed(subjects);
  }
  complain(fmt::format("\"{}\" is not judged on \"{}\"{}", printable(query.requirement),
                       printable(query.subject), near));
}

}  // namespace

void declare_why(Arguments& verb, Options& options) {
  declare_report(verb, options);
  verb.needed("REQUIREMENT", options.words,
              "which, or quantity, hand, open;\nif wanted also: on PART, PLACE or JOINT");
}

Status run_why(const Options& options) {
  WhyQuery query;
  if (!read_query(options.words, query)) {
    complain("why takes FILE REQUIREMENT, and if wanted: on SUBJECT");
    return Status::wrong_use;
  }
  Loaded loaded;
  if (!load_project(options.file, options, loaded)) return Status::text_wrong;
  Status status = Status::fits;
  const auto builds = chosen_builds(loaded, options, status);
  if (builds.empty()) return status;
  std::vector<Results> results;
  for (const Build* build : builds) results.push_back(judge(loaded, *build, options));
  std::vector<Scene> scenes;
  for (std::size_t i = 0; i < builds.size(); ++i)
    scenes.push_back(scene_of(loaded, *builds[i], results[i], options));
  std::string page;
  WhyJson json;
  bool conflict = false, open = false;
  for (const Scene& scene : scenes) {
    const auto graph = matching_graph(scene, query);
    const auto matches = matching_findings(scene, query);
    const int one = exit_status(scene, matches, graph);
    conflict = conflict || one == 1;
    open = open || one == 2;
    if (options.json) {
      if (!graph.empty() || !matches.empty()) json.add(scene, matches, graph);
      continue;
    }
    const auto add = [&](const std::string& told) { page += (page.empty() ? "" : "\n") + told; };
    if (!graph.empty()) add(why_graph_page(scene, graph, wants_colour(options.colour)));
    if (!matches.empty()) add(why_page(scene, query, {wants_colour(options.colour), command_of(options)}));
  }
  if (page.empty() && json.empty()) {
    complain_unknown(scenes, query);
    return Status::wrong_use;
  }
  status = conflict ? Status::conflict : open ? Status::open : Status::fits;
  const bool written = options.json ? write_out(json.text(static_cast<int>(status))) : write_out(page);
  return written ? status : Status::wrong_use;
}

}  // namespace mm

#include "app/output.hpp"
#include "app/pipeline.hpp"
#include "app/verbs.hpp"
#include "report/json_why.hpp"
#include "report/no_choice.hpp"
#include "report/why_page.hpp"

namespace mm {

namespace {

/// REQUIREMENT [on] SUBJECT {+ SUBJECT} [at PLACE], as a report writes it; false where it is none of this.
bool read_query(const std::vector<std::string>& words, WhyQuery& query) {
  query.requirement = words[0];
  bool wanted = false, free = true;  // a subject is awaited; may follow without a word before it
  for (std::size_t i = 1; i < words.size(); ++i) {
    if (words[i] == "on" || words[i] == "at" || words[i] == "+") {
      if (wanted || (words[i] == "+" && query.subjects.empty())) return false;
      wanted = true;
      continue;
    }
    if (!wanted && !free) return false;
    for (std::string& name : names_in(words[i])) query.subjects.push_back(std::move(name));
    wanted = free = false;
  }
  return !wanted;
}

/// The command line again, up to the requirement.
std::string command_of(const Options& options) {
  std::string out = "matchmark why " + options.file;
  for (const std::string& folder : options.rule_folders) out += " --rules " + folder;
  return out;
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
    complain("why takes FILE and one REQUIREMENT, and if wanted: on SUBJECT");
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
    complain(why_nothing_text(scenes, query));
    return Status::wrong_use;
  }
  status = conflict ? Status::conflict : open ? Status::open : Status::fits;
  const bool written = options.json ? write_out(json.text(static_cast<int>(status))) : write_out(page);
  return written ? status : Status::wrong_use;
}

}  // namespace mm

#include "app/pipeline.hpp"

#include <fmt/format.h>

#include "app/output.hpp"
#include "base/near_miss.hpp"
#include "evaluate/evaluate.hpp"
#include "report/page.hpp"
#include "resolve/resolve.hpp"
#include "solve/conflict_set.hpp"
#include "syntax/load.hpp"

namespace mm {

namespace {

void write_messages(const Loaded& loaded, std::size_t limit) {
  std::size_t dropped = 0;
  std::string out;
  for (const Message& message : loaded.messages.sorted(limit, &dropped))
    out += render(message, loaded.sources);
  if (dropped != 0) out += fmt::format("matchmark: and {}\n", counted(dropped, "more message"));
  if (!out.empty()) write_error(out);
}

}  // namespace

bool Loaded::is_asked(const Build& build) const {
  return build.decl != nullptr && build.decl->span.file == asked;
}

bool load_project(const std::string& file, const Options& options, Loaded& loaded) {
  LoadOptions limits;
  limits.rule_folders = options.rule_folders;
  const auto first = load(file, limits, loaded.sources, loaded.names, loaded.tree, loaded.messages);
  if (first) loaded.asked = *first;
  // What could be read is checked all the same, so that one slip does not hide the next.
  Messages meaning;
  const FileId trials_of =
      options.used ? FileId{} : loaded.asked;  // those of shared rules are run by "trial"
  if (first) loaded.project = resolve(loaded.tree, loaded.sources, loaded.names, meaning, trials_of);
  loaded.messages.take(meaning, loaded.messages.has_errors());
  write_messages(loaded, options.max_errors);
  return !loaded.messages.has_errors();
}

Results judge(const Loaded& loaded, const Build& build) {
  Results results = evaluate(loaded.project, build, loaded.names);
  results.conflict_sets = find_conflict_sets(loaded.project, build, results);
  return results;
}

Scene scene_of(const Loaded& loaded, const Build& build, const Results& results, const Options& options) {
  return {loaded.project, build, results, loaded.tree, loaded.sources, loaded.names, options.today};
}

std::vector<const Build*> chosen_builds(const Loaded& loaded, const Options& options, Status& status) {
  std::vector<const Build*> builds;
  std::vector<std::string_view> names;
  for (const Build& build : loaded.project.builds) {
    if (build.is_trial || !loaded.is_asked(build)) continue;
    names.push_back(loaded.names.text(build.name));
    if (options.build.empty() || names.back() == options.build) builds.push_back(&build);
  }
  if (!builds.empty()) return builds;
  status = Status::wrong_use;
  if (names.empty()) {
    complain(fmt::format("\"{}\" holds no build; \"matchmark trial\" runs the trials of a rule file",
                         printable(options.file)));
    return builds;
  }
  const std::string near = nearest_name(options.build, names);
  complain(fmt::format("there is no build \"{}\"{}; there is {}", printable(options.build),
                       near.empty() ? "" : fmt::format("; did you mean \"{}\"?", printable(near)),
                       listed(names)));
  return builds;
}

}  // namespace mm

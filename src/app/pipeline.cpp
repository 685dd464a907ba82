#include "app/pipeline.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "app/limits.hpp"
#include "app/output.hpp"
#include "base/near_miss.hpp"
#include "evaluate/evaluate.hpp"
#include "messages/slips.hpp"
#include "report/page.hpp"
#include "resolve/resolve.hpp"
#include "solve/conflict_set.hpp"
#include "syntax/load.hpp"
#include "text/rule_folders.hpp"

namespace mm {

namespace {

constexpr std::size_t most_searches = 20, most_tried = 100;
constexpr std::size_t most_named = 4;  // in a note
constexpr std::size_t most_work = 1'000'000;

bool may_be_elsewhere(const Message& message) {
  return message.code == Code::unknown_name || message.code == Code::unknown_type ||
         message.code == Code::file_missing || message.code == Code::use_outside_roots;
}

/// Where the rule folders declare what a message misses: "declared in rules/hubs.rules: use
/// \"../rules/hubs.rules\"".
std::string declared_elsewhere(const Message& message, const Loaded& loaded,
                               const std::vector<std::string>& folders) {
  if (folders.empty() || !message.span.file) return {};
  std::string sort, name;
  if (message.code == Code::unknown_name && message.arguments.size() == 2) {
    sort = message.arguments[0];
    name = message.arguments[1];
  } else if (message.code == Code::unknown_type && !message.arguments.empty()) {
    sort = "designation";
    name = message.arguments[0];
  }
  static constexpr std::array<std::string_view, 7> sorts = {"kind",  "interface", "part",       "group",
                                                            "table", "formula",   "designation"};
  if (sort == "function or formula") sort = "formula";
  if (std::find(sorts.begin(), sorts.end(), sort) == sorts.end()) return {};
  const auto files = files_declaring(folders, sort, name, 1);
  if (files.empty()) return {};
  const std::string path = path_from(loaded.sources[message.span.file].path, files[0]);
  return fmt::format("{} declares it{}", files[0], path.empty() ? "" : fmt::format(": use \"{}\"", path));
}

/// Where not one kind was read: then no file of rules was.
std::string declared_nowhere(const Message& message, const Loaded& loaded) {
  const bool kind = message.code == Code::unknown_name && message.arguments[0] == "kind";
  if (!kind || loaded.project.model.kinds.size() != 0) return {};
  return "no kind was read: use \"FILE.rules\" reads the file that declares it";
}

std::string found_elsewhere(const Message& message, const Loaded& loaded,
                            const std::vector<std::string>& folders) {
  const bool missing = message.code == Code::file_missing || message.code == Code::use_outside_roots;
  if (!missing || !message.span.file || folders.empty()) return {};
  const auto slash = message.arguments[0].rfind('/');
  const auto files = files_named(
      folders, slash == std::string::npos ? message.arguments[0] : message.arguments[0].substr(slash + 1));
  if (files.empty()) return {};
  const std::string path = path_from(loaded.sources[message.span.file].path, files[0]);
  return path.empty() ? std::string() : fmt::format("{} is there: use \"{}\"", files[0], path);
}

}  // namespace

bool Loaded::is_asked(const Build& build) const {
  return build.decl != nullptr && build.decl->span.file == asked;
}

bool load_project(const std::string& file, const Options& options, Loaded& loaded) {
  LoadOptions limits;
  limits.rule_folders = options.rule_folders;
  limits.max_file_bytes = options.max_file_bytes();
  limits.max_nesting = options.max_nesting;
  limits.helpers = &loaded.helpers;
  limits.text_grows = [&](std::size_t bytes) { limit_memory(options.max_megabytes, bytes); };
  const auto first = load(file, limits, loaded.sources, loaded.names, loaded.tree, loaded.messages);
  if (first) loaded.asked = *first;
  // What could be read is checked all the same, so that one slip does not hide the next.
  Messages meaning;
  const FileId trials_of =
      options.used ? FileId{} : loaded.asked;  // those of shared rules are run by "trial"
  if (first)
    loaded.project = resolve(loaded.tree, loaded.sources, loaded.names, meaning, trials_of, &loaded.helpers);
  drop_what_is_bound(loaded.tree);
  loaded.messages.take(meaning, loaded.sources);
  explain_slips(loaded.sources, loaded.messages);
  loaded.messages.gather_same_names();
  std::size_t asked_for = 0, tried = 0;  // each search reads the rule folders again
  loaded.messages.add_hints([&](const Message& message) {
    if (asked_for >= most_searches || tried >= most_tried) return std::string();
    std::string hint = found_elsewhere(message, loaded, options.rule_folders);
    if (hint.empty()) hint = declared_elsewhere(message, loaded, options.rule_folders);
    if (hint.empty() && tried == 0) hint = declared_nowhere(message, loaded);  // once is enough
    if (!hint.empty()) ++asked_for;
    if (may_be_elsewhere(message)) ++tried;
    return hint;
  });
  write_messages(loaded.messages, loaded.sources, options.max_errors);
  return !loaded.messages.has_errors();
}

Results judge(const Loaded& loaded, const Build& build, const Options& options) {
  EvaluateOptions limits;
  limits.max_matches = options.max_matches;
  limits.max_splits = options.max_pieces;
  limits.max_combinations = options.max_combinations;
  limits.max_steps = std::min<std::size_t>(options.max_work, most_work) * 1'000'000;
  limits.helpers = &loaded.helpers;
  limits.setting_limits = options.json || !options.words.empty();  // no page of check tells them
  Results results = evaluate(loaded.project, build, loaded.names, limits);
  ConflictSets together = find_conflict_sets(loaded.project, results, loaded.names, options.today,
                                             static_cast<std::int64_t>(limits.max_steps / 10));
  results.conflict_sets = std::move(together.sets);
  std::vector<std::string> names;
  for (const std::uint32_t finding : together.not_settled) {
    const RequirementDef& one = loaded.project.model.requirements[results.findings[finding].requirement];
    std::string name(loaded.names.text(one.name));
    if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(std::move(name));
    if (names.size() < most_named) continue;
    names.back() = "more";
    break;
  }
  if (!names.empty())
    results.notes.push_back(
        fmt::format("whether {} can hold together with all others on the same values was not settled within "
                    "the steps that this search may take{}",
                    listed(names), together.out_of_steps ? "; --max-work allows more" : ""));
  return results;
}

Scene scene_of(const Loaded& loaded, const Build& build, const Results& results, const Options& options) {
  return {loaded.project, build,        results,       loaded.tree,
          loaded.sources, loaded.names, options.today, options.max_choices};
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

#include <fmt/format.h>

#include <set>

#include "app/output.hpp"
#include "app/pipeline.hpp"
#include "app/verbs.hpp"
#include "messages/message.hpp"
#include "report/trials.hpp"
#include "text/rule_folders.hpp"

namespace mm {

namespace {

bool uses_trials(const Loaded& loaded) {
  for (const FileTree& file : loaded.tree.files) {
    if (file.file == loaded.asked) continue;
    for (const Declaration& declaration : file.declarations) {
      const auto* build = std::get_if<Boxed<BuildDecl>>(&declaration);
      if (build != nullptr && (*build)->is_trial) return true;
    }
  }
  return false;
}

/// Where trials may be that the file named does not hold.
std::string trials_elsewhere(const std::string& file, const Options& options, const Loaded& loaded) {
  const std::string beside = file_beside(file, "_trials");
  if (!beside.empty()) return fmt::format("; is \"{}\", beside it, meant?", printable(beside));
  if (options.used) return ", and no file that it uses holds one";
  return uses_trials(loaded) ? "; --used runs those of the files that it uses" : "";
}

}  // namespace

void declare_trial(Arguments& verb, Options& options) {
  verb.needed("FILE", options.files, "files that carry trials");
  declare_reading(verb, options);
  verb.flag("--used", options.used, "also the trials of files that these use");
  declare_form(verb, options);
}

Status run_trial(const Options& options) {
  std::vector<TrialResult> trials;
  std::set<WrittenAt> places;  // of them
  bool text_wrong = false, failed = false, empty = false;
  std::size_t without = 0;  // files that hold none
  for (const std::string& file : options.files) {
    Loaded loaded;
    if (!load_project(file, options, loaded)) {
      text_wrong = true;
      continue;
    }
    bool any = false;
    for (const Build& build : loaded.project.builds) {
      if (!build.is_trial || (!options.used && !loaded.is_asked(build))) continue;
      any = true;
      const Results results = judge(loaded, build, options);
      TrialResult trial = judge_trial(scene_of(loaded, build, results, options));
      if (!places.insert(trial.place).second) continue;  // used by several of the files
      failed = failed || trial.failed() != 0;
      if (trial.expectations.empty()) {
        empty = true;
        complain(fmt::format("{}:{}: trial \"{}\" has no expect", trial.place.file, trial.place.place.line,
                             trial.title));
      }
      trials.push_back(std::move(trial));
    }
    if (any) continue;
    empty = true;
    ++without;
    complain(
        fmt::format("\"{}\" holds no trial{}", printable(file), trials_elsewhere(file, options, loaded)));
  }
  if (text_wrong) return Status::text_wrong;
  if (trials.empty()) return Status::wrong_use;
  const Status status = failed ? Status::conflict : empty ? Status::wrong_use : Status::fits;
  const std::string page = options.json ? trial_json(trials, static_cast<int>(status))
                                        : trial_page(trials, without, wants_colour(options.colour));
  return write_out(page) ? status : Status::wrong_use;
}

}  // namespace mm

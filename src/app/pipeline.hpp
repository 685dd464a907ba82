// The whole program in one page: text is read, names are bound, builds are judged, reports are written.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "app/options.hpp"
#include "base/helpers.hpp"
#include "report/scene.hpp"

namespace mm {

/// Everything that the files say. Later members point into earlier ones, so it stays where it was made.
struct Loaded {
  mutable Helpers helpers{useful_threads() - 1};  // awake by the time that builds are judged
  Sources sources;
  Names names;
  Tree tree;
  Messages messages;
  Project project;
  FileId asked;  // the file named on the command line

  Loaded() = default;
  Loaded(const Loaded&) = delete;
  Loaded& operator=(const Loaded&) = delete;

  /// Declared in the file that the command line named.
  bool is_asked(const Build& build) const;
};

/// Step 1: reads the file and those that it uses, parses and resolves them. False, with every message on
/// standard error, when the text is wrong; warnings are written too.
bool load_project(const std::string& file, const Options& options, Loaded& loaded);

/// Step 2: judges one build. The results refer to `loaded`.
Results judge(const Loaded& loaded, const Build& build, const Options& options);

/// What a report reads. Step 3 is one function of src/report on it.
Scene scene_of(const Loaded& loaded, const Build& build, const Results& results, const Options& options);

/// The builds to report: of the file asked for, and only the one that --build names. Empty, with a message,
/// and `status` set, when there is none.
std::vector<const Build*> chosen_builds(const Loaded& loaded, const Options& options, Status& status);

}  // namespace mm

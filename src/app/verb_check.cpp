#include <algorithm>
#include <optional>

#include "app/output.hpp"
#include "app/pipeline.hpp"
#include "app/verbs.hpp"
#include "report/check_page.hpp"
#include "report/json_check.hpp"

namespace mm {

void declare_check(Arguments& verb, Options& options) {
  declare_report(verb, options);
  verb.flag("--all", options.all, "everything at length, then every finding in a line");
}

Status run_check(const Options& options) {
  Loaded loaded;
  if (!load_project(options.file, options, loaded)) return Status::text_wrong;
  Status status = Status::fits;
  const auto builds = chosen_builds(loaded, options, status);
  if (builds.empty()) return status;
  std::string page;
  CheckJson json;
  bool conflict = false, open = false;
  std::optional<Results> results;  // of the last build they are not taken apart: the program ends
  std::optional<Conclusion> conclusion;
  for (const Build* build : builds) {
    conclusion.reset();
    results.reset();
    results = judge(loaded, *build, options);
    const Scene scene = scene_of(loaded, *build, *results, options);
    conclusion = conclude(scene);
    const int one = exit_status(scene, *conclusion);
    conflict = conflict || one == 1;
    open = open || one == 2;
    if (options.json)
      json.add(scene, *conclusion);
    else
      page += (page.empty() ? "" : "\n") +
              check_page(scene, *conclusion, {wants_colour(options.colour), options.all, &loaded.helpers});
  }
  status = conflict ? Status::conflict : open ? Status::open : Status::fits;
  const bool written = options.json ? write_out(json.text(static_cast<int>(status))) : write_out(page);
  if (!written) return Status::wrong_use;
  end_quickly(status);
  return status;
}

}  // namespace mm

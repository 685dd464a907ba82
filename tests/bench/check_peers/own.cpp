// This project: the whole evaluator, and its columns alone.
#include <algorithm>
#include <cstdio>
#include <cstdlib>

#include "app/pipeline.hpp"
#include "evaluate/column_judge.hpp"
#include "evaluate/evaluate.hpp"
#include "evaluate/matches.hpp"
#include "peers.hpp"

namespace bench {

namespace {

/// The one build of a file, loaded; ends the process where there is none.
const mm::Build& load(const std::string& file, mm::Loaded& loaded) {
  mm::Options options;
  options.file = file;
  options.max_file_megabytes = 256;
  if (!mm::load_project(file, options, loaded)) std::exit(4);
  mm::Status status = mm::Status::fits;
  const auto builds = mm::chosen_builds(loaded, options, status);
  if (builds.size() != 1) std::exit(4);
  return *builds[0];
}

}  // namespace

Told by_matchmark(const std::string& file, bool details) {
  Told told;
  const auto begin = Clock::now();
  mm::Loaded loaded;
  const mm::Build& build = load(file, loaded);
  told.loading = since(begin);
  const auto judging = Clock::now();
  mm::EvaluateOptions options;
  options.details = details;
  const mm::Results results = mm::evaluate(loaded.project, build, loaded.names, options);
  told.judging = since(judging);
  for (const mm::Finding& finding : results.findings) {
    const mm::Verdict verdict = finding.cases[0].outcome.verdict;
    told.counts.add(verdict != mm::Verdict::conflict, verdict != mm::Verdict::fits);
  }
  return told;
}

Told by_columns(const std::string& file) {
  Told told;
  const auto begin = Clock::now();
  mm::Loaded loaded;
  const mm::Build& build = load(file, loaded);
  told.loading = since(begin);

  const auto gathering = Clock::now();
  const mm::RoundUp rounding;
  const mm::Model& model = loaded.project.model;
  mm::Designations designations(model);
  const mm::BuildIndex index(model, build);
  mm::Bench bench(index, designations);
  std::vector<mm::Binding> bindings;
  for (std::uint32_t joint = 0; joint < build.joints.size(); ++joint)
    bindings.push_back(mm::binding_of(model, build, joint));
  std::vector<const mm::Binding*> rows;
  for (const mm::Binding& binding : bindings) rows.push_back(&binding);
  mm::ColumnTable table(bench, std::move(rows));
  std::vector<mm::ColumnJudge> judges;
  std::vector<mm::ColumnSource> sources;
  for (const mm::RequirementId id : model.interfaces[build.joints[0].interface].requirements) {
    judges.emplace_back(bench, model.requirements[id], nullptr);
    if (!judges.back().any()) std::exit(4);
    judges.back().sources(sources);
  }
  table.gather(sources);
  for (const mm::ColumnJudge& judge : judges) {
    const auto verdicts = judge.judge(table, false).verdicts;
    if (std::count(verdicts.begin(), verdicts.end(), mm::ColumnVerdicts::none) != 0) std::exit(4);
  }
  told.gathering = since(gathering);

  time_judging(told, [&] {
    Counts counts;
    for (const mm::ColumnJudge& judge : judges) {
      const std::vector<std::uint8_t> verdicts = judge.judge(table, false).verdicts;
      const auto of = [&](mm::Verdict verdict) {
        return std::count(verdicts.begin(), verdicts.end(), static_cast<std::uint8_t>(verdict));
      };
      const long fits = of(mm::Verdict::fits), conflict = of(mm::Verdict::conflict);
      counts.fits += fits;
      counts.conflict += conflict;
      counts.unknown += static_cast<long>(verdicts.size()) - fits - conflict;
    }
    return counts;
  });
  return told;
}

}  // namespace bench

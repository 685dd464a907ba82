// The steps of `check` on the demo build, inside one process: reading, binding, judging, reporting.
#include <benchmark/benchmark.h>

#include "app/pipeline.hpp"
#include "report/check_page.hpp"

namespace {

const std::string root = MATCHMARK_SOURCE_DIR;
const std::string demo = root + "/builds/market_day_van/van.build";

mm::Options options() {
  mm::Options o;
  o.files = {demo};
  o.rule_folders = {root + "/rules"};
  return o;
}

const mm::Build* build_of(const mm::Loaded& loaded, const mm::Options& o, benchmark::State& state) {
  mm::Status status = mm::Status::fits;
  const auto builds = mm::chosen_builds(loaded, o, status);
  if (builds.empty()) {
    state.SkipWithError("the demo build cannot be read");
    return nullptr;
  }
  return builds[0];
}

void read_and_resolve(benchmark::State& state) {
  const mm::Options o = options();
  for (auto _ : state) {
    mm::Loaded loaded;
    if (!mm::load_project(demo, o, loaded)) state.SkipWithError("the demo build cannot be read");
    benchmark::DoNotOptimize(loaded.project);
  }
}

void judge(benchmark::State& state) {
  const mm::Options o = options();
  mm::Loaded loaded;
  if (!mm::load_project(demo, o, loaded)) return state.SkipWithError("the demo build cannot be read");
  const mm::Build* build = build_of(loaded, o, state);
  if (build == nullptr) return;
  for (auto _ : state) benchmark::DoNotOptimize(mm::judge(loaded, *build, o));
}

void report(benchmark::State& state) {
  const mm::Options o = options();
  mm::Loaded loaded;
  if (!mm::load_project(demo, o, loaded)) return state.SkipWithError("the demo build cannot be read");
  const mm::Build* build = build_of(loaded, o, state);
  if (build == nullptr) return;
  const mm::Results results = mm::judge(loaded, *build, o);
  const mm::Scene scene = mm::scene_of(loaded, *build, results, o);
  for (auto _ : state) benchmark::DoNotOptimize(mm::check_page(scene, mm::conclude(scene), {false, false}));
}

BENCHMARK(read_and_resolve)->Unit(benchmark::kMillisecond);
BENCHMARK(judge)->Unit(benchmark::kMillisecond);
BENCHMARK(report)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();

// Any bytes as a build: binding, judging and every report end, harm nothing and steer no terminal. Fewer
// pieces and matches than usual, so that many texts are tried in a second.
#include <cstdint>

#include "app/pipeline.hpp"
#include "fuzz_help.hpp"
#include "report/check_page.hpp"
#include "report/json_check.hpp"
#include "report/json_why.hpp"
#include "report/list_page.hpp"
#include "report/trials.hpp"
#include "report/why_page.hpp"
#include "resolve/resolve.hpp"
#include "syntax/load.hpp"

namespace {

constexpr std::size_t most_asked = 4;  // requirements whose reasons are told

void report(const mm::Loaded& loaded, const mm::Build& build, const mm::Options& options,
            std::string_view text) {
  const mm::Results results = mm::judge(loaded, build, options);
  const mm::Scene scene = mm::scene_of(loaded, build, results, options);
  if (build.is_trial) {
    const mm::TrialResult trial = mm::judge_trial(scene);
    fuzz::must_be_harmless(mm::trial_page({trial}, 0, false), text);
    fuzz::must_be_harmless(mm::trial_json({trial}, 0), text);
  }
  const mm::Conclusion conclusion = mm::conclude(scene);
  fuzz::must_be_harmless(mm::check_page(scene, conclusion, {false, false}), text);
  fuzz::must_be_harmless(mm::check_page(scene, conclusion, {false, true}), text);
  mm::CheckJson json;
  json.add(scene, conclusion);
  for (const std::string& piece : json.text(0)) fuzz::must_be_harmless(piece, text);
  for (const char* word : {"quantity", "hand", "open"}) {
    const std::vector<std::size_t> graph = mm::matching_graph(scene, {word, {}});
    if (!graph.empty()) fuzz::must_be_harmless(mm::why_graph_page(scene, graph, false), text);
  }
  std::size_t asked = 0;
  for (const std::string& requirement : mm::known_requirements(scene)) {
    if (++asked > most_asked) break;
    fuzz::must_be_harmless(mm::why_page(scene, {requirement, {}}, {}), text);
    mm::WhyJson why;
    why.add(scene, mm::matching_findings(scene, {requirement, {}}),
            mm::matching_graph(scene, {requirement, {}}));
    for (const std::string& piece : why.text(0)) fuzz::must_be_harmless(piece, text);
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  mm::Loaded loaded;
  const std::string text(reinterpret_cast<const char*>(data), size);
  const auto file = mm::load_text("fuzz", text, loaded.sources, loaded.names, loaded.tree, loaded.messages);
  if (!file) return 0;
  loaded.asked = *file;
  loaded.project = mm::resolve(loaded.tree, loaded.sources, loaded.names, loaded.messages);
  for (const mm::Message& message : loaded.messages.all())
    fuzz::must_be_harmless(mm::render(message, loaded.sources), text);
  if (loaded.messages.has_errors()) return 0;
  mm::Options options;
  options.max_matches = 2'000;
  options.max_pieces = 100;
  options.max_work = 20;
  for (const mm::Build& build : loaded.project.builds) report(loaded, build, options, text);
  const mm::Offer offer{loaded.project.model, loaded.sources, loaded.names, loaded.tree};
  fuzz::must_be_harmless(mm::list_page(offer, mm::offered_names(offer), false), text);
  fuzz::must_be_harmless(mm::list_checks(offer, mm::checked_names(offer), false), text);
  fuzz::must_be_harmless(mm::list_json(offer, {}), text);
  return 0;
}

// 0, 1 or 2, of all that was concluded.
#include <algorithm>

#include "report/no_choice.hpp"

namespace mm {

namespace {

bool is_always_conflict(const Summary& summary) {
  return summary.word == Word::conflict && summary.is_hard();
}

bool is_open(const Summary& summary) {
  return !summary.waived && summary.word != Word::fits && summary.word != Word::not_applicable &&
         summary.word != Word::caution;
}

}  // namespace

int exit_status(const Scene& scene, const Conclusion& conclusion) {
  // nothing judged is no all-clear, nor is a rule that was not
  bool open = scene.results.rules_not_judged != 0 ||
              std::all_of(conclusion.summaries.begin(), conclusion.summaries.end(),
                          [](const Summary& summary) { return summary.word == Word::not_applicable; });
  for (const GraphFinding& graph : scene.results.graph) {
    const Word word = graph_word(graph);
    if (word == Word::conflict) return 1;
    open = open || word == Word::unknown || word == Word::choice;
  }
  for (const ConflictSet& set : scene.results.conflict_sets)
    if (set.after.empty() && set.in_state.empty()) return 1;
  // a search that was cut off proves nothing; a conflict whatever is chosen needs none
  if (!conclusion.avoidable &&
      (conclusion.searched_all ||
       std::any_of(conclusion.summaries.begin(), conclusion.summaries.end(), is_always_conflict)))
    return 1;
  open = open || !conclusion.avoidable;
  open = open || std::any_of(conclusion.summaries.begin(), conclusion.summaries.end(), is_open);
  open = open || !conclusion.too_few.empty();
  return open ? 2 : 0;
}

int exit_status(const Scene& scene, const std::vector<std::size_t>& findings,
                const std::vector<std::size_t>& graph) {
  bool open = !graph.empty();
  for (const std::size_t i : graph)
    if (graph_word(scene.results.graph[i]) == Word::conflict) return 1;
  for (const std::size_t i : findings) {
    const Summary summary = summarize(scene, i);
    if (is_always_conflict(summary)) return 1;
    open = open || is_open(summary);
  }
  return open ? 2 : 0;
}

}  // namespace mm

// Is a conflict of the whole build avoidable? Each finding forbids some combinations of candidates and
// planned reworks. A depth-first search sets one slot or rework after another and turns back as soon as a
// finding whose slots and reworks are all set is a conflict. Builds have few slots; the search still stops at
// a stated limit.
#include <algorithm>
#include <map>

#include "report/summary.hpp"

namespace mm {

namespace {

/// Variables: slots (value: candidate) and planned reworks (value: 0 or 1).
struct Constraint {
  std::vector<std::size_t> variables;              // ascending
  std::map<std::vector<std::uint32_t>, bool> bad;  // values -> conflict
};

struct Search {
  std::vector<std::uint32_t> sizes;
  std::vector<std::vector<const Constraint*>> ending;  // by the last variable that they read
  std::vector<std::uint32_t> values;
  std::size_t steps = 0;

  bool broken(const Constraint& constraint) const {
    std::vector<std::uint32_t> key;
    for (const std::size_t v : constraint.variables) key.push_back(values[v]);
    const auto found = constraint.bad.find(key);
    return found != constraint.bad.end() && found->second;
  }

  bool run(std::size_t variable) {
    if (variable == sizes.size()) return true;
    for (std::uint32_t value = 0; value < sizes[variable]; ++value) {
      if (++steps > choice_search_limit) return false;
      values[variable] = value;
      const bool bad = std::any_of(ending[variable].begin(), ending[variable].end(),
                                   [&](const Constraint* c) { return broken(*c); });
      if (!bad && run(variable + 1)) return true;
    }
    return false;
  }
};

}  // namespace

bool conflict_avoidable(const Scene& scene, const std::vector<Summary>& summaries, bool& searched_all) {
  searched_all = true;
  std::map<std::uint32_t, std::size_t> slot_variable, rework_variable;
  Search search;
  std::vector<Constraint> constraints;
  const auto relevant = [&](const Summary& s) {
    if (!s.is_hard()) return false;
    const auto& cases = scene.results.findings[s.finding].cases;
    return std::any_of(cases.begin(), cases.end(),
                       [](const Case& c) { return c.outcome.verdict == Verdict::conflict; });
  };
  for (const Summary& summary : summaries) {
    if (!relevant(summary)) continue;
    const Finding& finding = scene.results.findings[summary.finding];
    for (const std::uint32_t fit : finding.slots)
      if (slot_variable.emplace(fit, search.sizes.size()).second)
        search.sizes.push_back(static_cast<std::uint32_t>(scene.build.fits[fit].candidates.size()));
    for (const std::uint32_t rework : finding.reworks)
      if (rework_variable.emplace(rework, search.sizes.size()).second) search.sizes.push_back(2);
  }
  for (const Summary& summary : summaries) {
    if (!relevant(summary)) continue;
    const Finding& finding = scene.results.findings[summary.finding];
    if (finding.slots.empty() && finding.reworks.empty()) return false;
    Constraint constraint;
    for (const std::uint32_t fit : finding.slots) constraint.variables.push_back(slot_variable.at(fit));
    for (const std::uint32_t rework : finding.reworks)
      constraint.variables.push_back(rework_variable.at(rework));
    std::sort(constraint.variables.begin(), constraint.variables.end());
    for (const Case& c : finding.cases) {
      std::map<std::size_t, std::uint32_t> values;
      for (const std::size_t v : constraint.variables) values[v] = 0;
      for (const auto& [fit, candidate] : c.choices) values[slot_variable.at(fit)] = candidate;
      for (const std::uint32_t rework : c.reworks) {
        const auto found = rework_variable.find(rework);
        if (found != rework_variable.end()) values[found->second] = 1;
      }
      std::vector<std::uint32_t> key;
      for (const auto& [variable, value] : values) key.push_back(value);
      constraint.bad[key] = c.outcome.verdict == Verdict::conflict;
    }
    constraints.push_back(std::move(constraint));
  }
  search.ending.resize(search.sizes.size());
  search.values.assign(search.sizes.size(), 0);
  for (const Constraint& constraint : constraints)
    search.ending[constraint.variables.back()].push_back(&constraint);
  const bool found = search.run(0);
  searched_all = found || search.steps <= choice_search_limit;
  return found;
}

int exit_status(const Scene& scene, const std::vector<Summary>& summaries) {
  // nothing judged is no all-clear, nor is a rule that was not
  bool open = scene.results.incomplete ||
              std::all_of(summaries.begin(), summaries.end(),
                          [](const Summary& summary) { return summary.word == Word::not_applicable; });
  for (const GraphFinding& graph : scene.results.graph) {
    if (graph_word(graph.what) == Word::conflict) return 1;
    open = open || graph_word(graph.what) == Word::unknown;
  }
  if (!scene.results.conflict_sets.empty()) return 1;
  bool searched_all = true;
  if (!conflict_avoidable(scene, summaries, searched_all)) return 1;
  for (const Summary& summary : summaries)
    open = open || (!summary.waived && summary.word != Word::fits && summary.word != Word::not_applicable &&
                    summary.word != Word::caution);
  return open ? 2 : 0;
}

}  // namespace mm

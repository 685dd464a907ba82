// Is a conflict of the whole build avoidable? Each finding forbids some combinations of candidates and
// planned reworks. A depth-first search sets one slot or rework after another and turns back as soon as a
// finding whose slots and reworks are all set is a conflict. Builds have few slots; the search still stops at
// a stated limit. Where nothing is left, findings that forbid all of it between them are gathered by taking
// one after another away and searching again: those without which a way out appears are kept.
#include <algorithm>
#include <map>

#include "report/no_choice.hpp"

namespace mm {

namespace {

/// Variables: slots (value: candidate) and planned reworks (value: 0 or 1).
struct Constraint {
  std::vector<std::size_t> variables;              // ascending
  std::map<std::vector<std::uint32_t>, bool> bad;  // values -> conflict
  // what forbids them: one of these
  const Finding* finding = nullptr;
  const GraphFinding* graph = nullptr;
  std::optional<SharedPart> shared = {};
  bool told = false;  // a conflict by itself, whatever is chosen
};

struct Search {
  std::vector<std::uint32_t> sizes;
  std::vector<std::vector<const Constraint*>> ending;  // by the last variable that they read
  std::vector<std::uint32_t> values;
  std::size_t steps = 0, most_steps = choice_search_limit;

  bool broken(const Constraint& constraint) const {
    std::vector<std::uint32_t> key;
    for (const std::size_t v : constraint.variables) key.push_back(values[v]);
    const auto found = constraint.bad.find(key);
    return found != constraint.bad.end() && found->second;
  }

  bool run(std::size_t variable) {
    if (variable == sizes.size()) return true;
    for (std::uint32_t value = 0; value < sizes[variable]; ++value) {
      if (++steps > most_steps) return false;
      values[variable] = value;
      const bool bad = std::any_of(ending[variable].begin(), ending[variable].end(),
                                   [&](const Constraint* c) { return broken(*c); });
      if (!bad && run(variable + 1)) return true;
    }
    return false;
  }
};

/// The search over all that forbids some combination.
class Avoidance {
 public:
  Avoidance(const Scene& scene, const std::vector<Summary>& summaries) : scene_(scene) {
    for (const Summary& summary : summaries)
      if (may_fail(summary)) forbid(scene.results.findings[summary.finding], summary.word == Word::conflict);
    for (const GraphFinding& graph : scene.results.graph)
      if (graph.slot < scene.build.fits.size() && graph_word_if_chosen(graph.what) == Word::conflict)
        forbid_candidate(graph);
    for (const SharedPart& shared : parts_in_several_slots(scene)) forbid_twice(shared);
  }

  bool found(bool& searched_all) {
    searched_all = true;
    return !hopeless_ && way_out(all([](const Constraint&) { return true; }), searched_all);
  }

  /// Sets that leave no choice, none of them a conflict by itself. What is alike at several places stands in
  /// one set only.
  std::vector<NoChoice> no_choices() {
    std::vector<NoChoice> out;
    Chosen left = all([](const Constraint& constraint) { return !constraint.told; });
    while (out.size() < most_sets) {
      bool searched_all = true;
      if (way_out(left, searched_all) || !searched_all) break;
      Chosen needed = left;  // the first are kept, of several that would do
      for (std::size_t i = left.size(); i-- > 0;) {
        Chosen fewer = needed;
        std::erase(fewer, left[i]);
        searched_all = true;
        if (!way_out(fewer, searched_all) && searched_all) needed = std::move(fewer);
      }
      out.push_back(told(needed));
      std::erase_if(left, [&](const Constraint* c) {
        return std::any_of(needed.begin(), needed.end(), [&](const Constraint* n) { return alike(*c, *n); });
      });
    }
    return out;
  }

 private:
  using Chosen = std::vector<const Constraint*>;
  static constexpr std::size_t most_combinations = 4096;  // of the slots that share one part
  static constexpr std::size_t most_sets = 16;
  static constexpr std::size_t most_steps_in_all = 4 * choice_search_limit;

  /// The same, or the same requirement turning on the same choices at another place.
  static bool alike(const Constraint& a, const Constraint& b) {
    return &a == &b || (a.finding != nullptr && b.finding != nullptr && a.variables == b.variables &&
                        a.finding->requirement == b.finding->requirement);
  }

  template <class Wanted>
  Chosen all(Wanted wanted) const {
    Chosen out;
    for (const Constraint& constraint : constraints_)
      if (wanted(constraint)) out.push_back(&constraint);
    return out;
  }

  /// Some combination is forbidden by none of these. `searched_all` is lowered where a limit was met first.
  bool way_out(const Chosen& chosen, bool& searched_all) {
    search_.ending.assign(search_.sizes.size(), {});
    search_.values.assign(search_.sizes.size(), 0);
    for (const Constraint* constraint : chosen)
      search_.ending[constraint->variables.back()].push_back(constraint);
    search_.steps = 0;
    search_.most_steps = std::min(choice_search_limit, most_steps_in_all - steps_);
    const bool found = search_.run(0);
    searched_all = found || search_.steps <= search_.most_steps;
    steps_ = std::min(most_steps_in_all, steps_ + search_.steps);
    return found;
  }

  NoChoice told(const Chosen& chosen) const {
    NoChoice out;
    for (const Constraint* constraint : chosen) {
      if (constraint->finding != nullptr)
        out.findings.push_back(
            static_cast<std::size_t>(constraint->finding - scene_.results.findings.data()));
      if (constraint->graph != nullptr) out.graph.push_back(constraint->graph);
      if (constraint->shared) out.shared.push_back(*constraint->shared);
    }
    const auto read = [&](const auto& variables, std::vector<std::uint32_t>& into) {
      for (const auto& [index, variable] : variables)
        if (std::any_of(chosen.begin(), chosen.end(), [v = variable](const Constraint* c) {
              return std::find(c->variables.begin(), c->variables.end(), v) != c->variables.end();
            }))
          into.push_back(index);
    };
    read(slots_, out.slots);
    read(reworks_, out.reworks);
    return out;
  }

  bool may_fail(const Summary& summary) const {
    const auto& cases = scene_.results.findings[summary.finding].cases;
    return summary.is_hard() && std::any_of(cases.begin(), cases.end(), [](const Case& c) {
             return c.outcome.verdict == Verdict::conflict;
           });
  }
  std::size_t slot(std::uint32_t fit) {
    const auto [at, added] = slots_.emplace(fit, search_.sizes.size());
    if (added) search_.sizes.push_back(static_cast<std::uint32_t>(scene_.build.fits[fit].candidates.size()));
    return at->second;
  }
  std::size_t rework(std::uint32_t index) {
    const auto [at, added] = reworks_.emplace(index, search_.sizes.size());
    if (added) search_.sizes.push_back(2);
    return at->second;
  }

  void forbid(const Finding& finding, bool told) {
    if (finding.slots.empty() && finding.reworks.empty()) {
      hopeless_ = true;
      return;
    }
    Constraint constraint;
    constraint.finding = &finding;
    constraint.told = told;
    for (const std::uint32_t fit : finding.slots) constraint.variables.push_back(slot(fit));
    for (const std::uint32_t index : finding.reworks) constraint.variables.push_back(rework(index));
    std::sort(constraint.variables.begin(), constraint.variables.end());
    for (const Case& c : finding.cases) {
      std::map<std::size_t, std::uint32_t> values;
      for (const std::size_t v : constraint.variables) values[v] = 0;
      for (const auto& [fit, candidate] : c.choices) values[slot(fit)] = candidate;
      for (const std::uint32_t index : c.reworks) values[rework(index)] = 1;
      std::vector<std::uint32_t> key;
      for (const auto& [variable, value] : values) key.push_back(value);
      constraint.bad[key] = c.outcome.verdict == Verdict::conflict;
    }
    constraints_.push_back(std::move(constraint));
  }

  /// Too few of a candidate.
  void forbid_candidate(const GraphFinding& graph) {
    const auto& candidates = scene_.build.fits[graph.slot].candidates;
    const auto at = std::find(candidates.begin(), candidates.end(), graph.part) - candidates.begin();
    Constraint constraint;
    constraint.graph = &graph;
    constraint.told = graph_word(graph) == Word::conflict;
    constraint.variables = {slot(graph.slot)};
    constraint.bad[{static_cast<std::uint32_t>(at)}] = true;
    constraints_.push_back(std::move(constraint));
  }

  /// One part for several slots: the combinations that take more of it than there are.
  void forbid_twice(const SharedPart& shared) {
    std::vector<std::pair<std::size_t, std::uint32_t>> variables;  // variable, slot
    std::size_t combinations = 1;
    for (const std::uint32_t fit : shared.slots) {
      variables.emplace_back(slot(fit), fit);
      combinations *= scene_.build.fits[fit].candidates.size();
      if (combinations > most_combinations) return;
    }
    std::sort(variables.begin(), variables.end());
    Constraint constraint;
    constraint.shared = shared;
    for (const auto& [variable, fit] : variables) constraint.variables.push_back(variable);
    std::vector<std::uint32_t> values(variables.size(), 0);
    for (std::size_t n = 0; n < combinations; ++n) {
      Rational taken = shared.always;
      std::size_t rest = n;
      for (std::size_t v = 0; v < variables.size(); ++v) {
        const Fit& fit = scene_.build.fits[variables[v].second];
        values[v] = static_cast<std::uint32_t>(rest % fit.candidates.size());
        rest /= fit.candidates.size();
        if (fit.candidates[values[v]] == shared.part) taken += pieces_of(fit);
      }
      if (taken > shared.there) constraint.bad[values] = true;
    }
    constraints_.push_back(std::move(constraint));
  }

  const Scene& scene_;
  std::map<std::uint32_t, std::size_t> slots_, reworks_;  // their variables
  Search search_;
  std::vector<Constraint> constraints_;
  bool hopeless_ = false;
  std::size_t steps_ = 0;  // of all searches
};

}  // namespace

Conclusion conclude(const Scene& scene) {
  Conclusion out{summarize_all(scene)};
  Avoidance avoidance(scene, out.summaries);
  out.avoidable = avoidance.found(out.searched_all);
  out.no_choices = avoidance.no_choices();
  return out;
}

int exit_status(const Scene& scene, const Conclusion& conclusion) {
  // nothing judged is no all-clear, nor is a rule that was not
  bool open = scene.results.incomplete ||
              std::all_of(conclusion.summaries.begin(), conclusion.summaries.end(),
                          [](const Summary& summary) { return summary.word == Word::not_applicable; });
  for (const GraphFinding& graph : scene.results.graph) {
    const Word word = graph_word(graph);
    if (word == Word::conflict) return 1;
    open = open || word == Word::unknown || word == Word::choice;
  }
  for (const ConflictSet& set : scene.results.conflict_sets)
    if (set.after.empty()) return 1;
  if (!conclusion.avoidable) return 1;
  for (const Summary& summary : conclusion.summaries)
    open = open || (!summary.waived && summary.word != Word::fits && summary.word != Word::not_applicable &&
                    summary.word != Word::caution);
  return open ? 2 : 0;
}

}  // namespace mm

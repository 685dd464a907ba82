// Is a conflict of the whole build avoidable? Each finding forbids some combinations of candidates and
// planned reworks. Where nothing is left, findings that forbid all of it between them are gathered by taking
// one after another away and searching again: those without which a way out appears are kept.
#include <algorithm>
#include <functional>
#include <map>
#include <set>
#include <tuple>

#include "report/no_choice.hpp"
#include "report/way_out.hpp"

namespace mm {

namespace {

/// Variables: slots (value: candidate) and planned reworks (value: 0 or 1).
struct Constraint : Forbidden {
  // what forbids them: one of these
  const Finding* finding = nullptr;
  std::size_t index = 0;  // of the finding
  const GraphFinding* graph = nullptr;
  std::optional<SharedPart> shared = {};
  bool told = false;  // a conflict by itself, whatever is chosen
};

/// The search over all that forbids some combination.
class Avoidance {
 public:
  Avoidance(const Scene& scene, const Conclusion& found) : scene_(scene) {
    for (const Summary& summary : found.summaries)
      if (may_fail(summary)) forbid(summary);
    for (const GraphFinding& graph : scene.results.graph)
      if (graph.slot < scene.build.fits.size() && graph_word_if_chosen(graph.what) == Word::conflict)
        forbid_candidate(graph);
    for (const SharedPart& shared : found.too_few) forbid_twice(shared);
    for (const ConflictSet& set : scene.results.conflict_sets) forbid_state(set);
  }

  bool found(bool& searched_all) {
    searched_all = true;
    return !hopeless_ && search_.way_out(all([](const Constraint&) { return true; }), searched_all);
  }

  /// Sets that leave no choice, none of them a conflict by itself. What is alike at several places stands in
  /// one set only.
  std::vector<NoChoice> no_choices() {
    std::vector<std::pair<const Forbidden*, NoChoice>> sets;  // by their last member
    for (Chosen left : search_.apart(all([](const Constraint& constraint) { return !constraint.told; }))) {
      for (std::size_t found = 0; found < most_sets; ++found) {
        bool searched_all = true;
        if (search_.way_out(left, searched_all) || !searched_all) break;
        if (found == 0) sort_by_name(left);
        Chosen needed = smallest_of(left);
        std::sort(needed.begin(), needed.end(), [](const Forbidden* a, const Forbidden* b) {
          return std::less<>()(constraint_of(*a), constraint_of(*b));  // in the order of the text
        });
        sets.emplace_back(needed.back(), told(needed));
        std::set<Alike> taken;
        for (const Forbidden* n : needed) taken.insert(alike(*n));
        std::erase_if(left, [&](const Forbidden* c) { return taken.contains(alike(*c)); });
      }
    }
    std::stable_sort(sets.begin(), sets.end(), [](const auto& a, const auto& b) {
      return std::less<>()(constraint_of(*a.first), constraint_of(*b.first));
    });
    std::vector<NoChoice> out;
    for (auto& [last, set] : sets) out.push_back(std::move(set));
    return out;
  }

 private:
  using Chosen = WaySearch::Chosen;
  static constexpr std::size_t most_combinations = 4096;  // of the slots that share one part
  static constexpr std::size_t most_sets = 16;            // of slots that hang together
  static constexpr std::size_t most_for_twos = 128, most_for_threes = 32;

  static const Constraint* constraint_of(const Forbidden& forbidden) {
    return static_cast<const Constraint*>(&forbidden);
  }

  /// The same for what is the same, and for a requirement that turns on the same choices at another place.
  using Alike = std::tuple<const Forbidden*, std::uint32_t, std::vector<std::size_t>>;
  static Alike alike(const Forbidden& one) {
    const Finding* finding = constraint_of(one)->finding;
    if (finding == nullptr) return {&one, 0, {}};
    return {nullptr, finding->requirement.index, one.variables};
  }

  template <class Wanted>
  Chosen all(Wanted wanted) const {
    Chosen out;
    for (const Constraint& constraint : constraints_)
      if (wanted(constraint)) out.push_back(&constraint);
    return out;
  }

  /// Of a set that leaves no way out those that it takes, as far as the steps reach: the first, of several
  /// that would do.
  Chosen least_of(const Chosen& set) {
    Chosen needed = set;
    for (std::size_t i = set.size(); i-- > 0 && !search_.spent();) {
      Chosen fewer = needed;
      std::erase(fewer, set[i]);
      bool searched_all = true;
      if (!search_.way_out(fewer, searched_all) && searched_all) needed = std::move(fewer);
    }
    return needed;
  }

  /// The first of those that forbid the same.
  static Chosen different(const Chosen& all) {
    const auto before = [](const Forbidden* a, const Forbidden* b) {
      return std::tie(a->variables, a->bad) < std::tie(b->variables, b->bad);
    };
    std::set<const Forbidden*, decltype(before)> known(before);
    Chosen out;
    for (const Forbidden* one : all)
      if (known.insert(one).second) out.push_back(one);
    return out;
  }

  /// What it is called and stands on, which no order of the text moves.
  std::string name_of(const Forbidden& forbidden) const {
    const Constraint& constraint = *constraint_of(forbidden);
    if (constraint.graph != nullptr) return scene_.text(scene_.build.parts[constraint.graph->part].name);
    if (constraint.shared) return scene_.text(scene_.build.parts[constraint.shared->part].name);
    const std::string name = scene_.text(scene_.requirement(*constraint.finding).name);
    if (constraint.finding->binding == nullptr) return name;
    return name + '|' + subject_text(scene_, *constraint.finding) + '|' +
           scene_.text(constraint.finding->binding->place);
  }

  void sort_by_name(Chosen& chosen) const {
    std::vector<std::pair<std::string, const Forbidden*>> named;
    for (const Forbidden* each : chosen) named.emplace_back(name_of(*each), each);
    std::stable_sort(named.begin(), named.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    for (std::size_t i = 0; i < chosen.size(); ++i) chosen[i] = named[i].second;
  }

  /// A set of fewest members, of sets that are not too large to try all twos and threes.
  Chosen smallest_of(const Chosen& all) {
    const Chosen set = different(all);
    Chosen needed = least_of(set);
    const auto leaves_none = [&](const Chosen& some) {
      bool searched_all = true;
      return !search_.spent() && !search_.way_out(some, searched_all) && searched_all;
    };
    if (needed.size() > 2 && set.size() <= most_for_twos)
      for (std::size_t i = 0; i < set.size(); ++i)
        for (std::size_t j = i + 1; j < set.size(); ++j)
          if (leaves_none({set[i], set[j]})) return {set[i], set[j]};
    if (needed.size() > 3 && set.size() <= most_for_threes)
      for (std::size_t i = 0; i < set.size(); ++i)
        for (std::size_t j = i + 1; j < set.size(); ++j)
          for (std::size_t k = j + 1; k < set.size(); ++k)
            if (leaves_none({set[i], set[j], set[k]})) return {set[i], set[j], set[k]};
    return needed;
  }

  NoChoice told(const Chosen& chosen) const {
    NoChoice out;
    std::set<std::size_t> read;
    for (const Forbidden* one : chosen) {
      const Constraint* constraint = constraint_of(*one);
      if (constraint->finding != nullptr) out.findings.push_back(constraint->index);
      if (constraint->graph != nullptr) out.graph.push_back(constraint->graph);
      if (constraint->shared) out.shared.push_back(*constraint->shared);
      read.insert(one->variables.begin(), one->variables.end());
    }
    for (const std::size_t variable : read) {
      const auto& [is_slot, index] = variables_[variable];
      (is_slot ? out.slots : out.reworks).push_back(index);
    }
    std::sort(out.slots.begin(), out.slots.end());
    std::sort(out.reworks.begin(), out.reworks.end());
    return out;
  }

  bool may_fail(const Summary& summary) const {
    const auto& cases = scene_.results.findings[summary.finding].cases;
    return summary.is_hard() && std::any_of(cases.begin(), cases.end(), [](const Case& c) {
             return c.outcome.verdict == Verdict::conflict;
           });
  }
  std::size_t slot(std::uint32_t fit) {
    return variable(slots_, fit, static_cast<std::uint32_t>(scene_.build.fits[fit].candidates.size()));
  }
  std::size_t rework(std::uint32_t index) { return variable(reworks_, index, 2); }
  std::size_t variable(std::map<std::uint32_t, std::size_t>& known, std::uint32_t index, std::uint32_t size) {
    const auto [at, added] = known.emplace(index, variables_.size());
    if (added) {
      search_.add_variable(size);
      variables_.emplace_back(&known == &slots_, index);
    }
    return at->second;
  }

  void forbid(const Summary& summary) {
    const Finding& finding = scene_.results.findings[summary.finding];
    if (finding.slots.empty() && finding.reworks.empty()) {
      hopeless_ = true;
      return;
    }
    Constraint constraint;
    constraint.finding = &finding;
    constraint.index = summary.finding;
    constraint.told = summary.word == Word::conflict;
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

  /// What cannot all hold, before planned work that helps or after such as does not.
  void forbid_state(const ConflictSet& set) {
    const std::uint32_t done = set.in_state.empty() ? 0 : 1;
    const std::vector<std::uint32_t>& reworks = done != 0 ? set.in_state : set.after;
    if (reworks.empty()) return;  // it is a conflict by itself
    Constraint constraint;
    constraint.told = true;
    for (const std::uint32_t index : reworks) constraint.variables.push_back(rework(index));
    std::sort(constraint.variables.begin(), constraint.variables.end());
    constraint.bad[std::vector<std::uint32_t>(reworks.size(), done)] = true;
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
    if (!shared.surely) return;
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
      if (taken > *shared.there) constraint.bad[values] = true;
    }
    constraints_.push_back(std::move(constraint));
  }

  const Scene& scene_;
  std::map<std::uint32_t, std::size_t> slots_, reworks_;   // their variables
  std::vector<std::pair<bool, std::uint32_t>> variables_;  // a slot or else a rework, and which
  WaySearch search_{scene_.max_choices, 4 * std::min(scene_.max_choices, SIZE_MAX / 4)};
  std::vector<Constraint> constraints_;
  bool hopeless_ = false;
};

}  // namespace

Conclusion conclude(const Scene& scene) {
  Conclusion out = not_searched(scene);
  out.too_few = parts_in_several_slots(scene);
  Avoidance avoidance(scene, out);
  out.avoidable = avoidance.found(out.searched_all);
  out.no_choices = avoidance.no_choices();
  return out;
}

}  // namespace mm

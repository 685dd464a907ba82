#include "evaluate/evaluate.hpp"

#include <algorithm>

#include "evaluate/batch.hpp"
#include "evaluate/graph_findings.hpp"
#include "evaluate/judges.hpp"
#include "evaluate/matches.hpp"
#include "evaluate/waivers.hpp"

namespace mm {

namespace {

Symbol shared_place(const Build& build, const Binding& binding) {
  Symbol place;
  const auto differs = [&](EntityId entity) {
    if (!entity) return false;
    const Symbol its = build.instances[build.entities[entity].instance].place;
    if (its && place && place != its) return true;
    if (its) place = its;
    return false;
  };
  const auto differ = [&](const std::vector<EntityId>& entities) {
    return std::any_of(entities.begin(), entities.end(), differs);
  };
  const bool several =
      differ(binding.locals) || std::any_of(binding.lists.begin(), binding.lists.end(), differ);
  return several ? Symbol() : place;
}

class Evaluation {
 public:
  Evaluation(const Project& project, const Build& build, const Names& names, const EvaluateOptions& options)
      : model_(project.model),
        build_(build),
        names_(names),
        options_(options),
        waivers_(build),
        index_(std::make_shared<const BuildIndex>(project.model, build)),
        judge_(*index_, names, options) {}

  Results run() {
    take_joints();
    for (const RuleDef& rule : model_.rules) take_rule(rule);
    for (const Expectation& expectation : build_.expectations) {
      if (expectation.word != Expectation::Word::that) continue;
      add(expectation.that, nullptr, keep({}));
    }
    const LimitsMet met = judge_tasks(judge_, names_, options_, results_.findings, tasks_);
    if (met.combinations) {
      results_.notes.push_back(
          "some requirements turn on more than " + std::to_string(options_.max_combinations) +
          " combinations of candidates: not all of these were tried, and what was not is open; "
          "--max-combinations allows more");
    }
    if (met.steps) {
      results_.notes.push_back(
          "some requirements take more work than one check may do, and are open; --max-work allows more");
    }
    results_.graph = find_graph_findings(*index_);
    results_.index = std::move(index_);
    return std::move(results_);
  }

 private:
  const Binding& keep(Binding binding) {
    binding.place = shared_place(build_, binding);
    return results_.bindings.emplace_back(std::move(binding));
  }

  void take_joints() {
    std::vector<std::vector<const Binding*>> rows(model_.interfaces.size());
    std::vector<std::size_t> row_of;  // by joint, within its interface
    for (std::uint32_t joint = 0; joint < build_.joints.size(); ++joint) {
      auto& of_interface = rows[build_.joints[joint].interface.index];
      row_of.push_back(of_interface.size());
      of_interface.push_back(&keep(binding_of(model_, build_, joint)));
    }
    std::vector<Batch> batches;
    for (std::size_t i = 0; i < rows.size(); ++i)
      batches.emplace_back(judge_.bench, std::move(rows[i]), nullptr,
                           model_.interfaces[InterfaceId{i}].requirements, options_);
    for (std::uint32_t joint = 0; joint < build_.joints.size(); ++joint) {
      const InterfaceId interface = build_.joints[joint].interface;
      const auto& requirements = model_.interfaces[interface].requirements;
      for (std::size_t r = 0; r < requirements.size(); ++r)
        add(batches[interface.index], r, row_of[joint], requirements[r], nullptr, results_.bindings[joint]);
    }
  }

  void take_rule(const RuleDef& rule) {
    std::vector<Binding> matches;
    judge_.bench.set_steps(static_cast<std::int64_t>(options_.max_matches) * 64);
    if (!find_matches(judge_.bench, rule, options_.max_matches, matches) || judge_.bench.spent()) {
      results_.notes.push_back(
          "rule " + std::string(names_.text(rule.name)) + ": more than " +
          std::to_string(options_.max_matches) +
          " combinations of parts to look at, so it was not judged. Tie its variables by "
          "an equality in \"where\", as a.code = b.code, or allow more with "
          "--max-matches");
      ++results_.rules_not_judged;
      return;
    }
    const std::size_t first = results_.bindings.size();
    std::vector<const Binding*> rows;
    for (Binding& match : matches) rows.push_back(&keep(std::move(match)));
    Batch batch(judge_.bench, std::move(rows), &rule, rule.requirements, options_);
    for (std::size_t row = 0; row < matches.size(); ++row) {
      for (std::size_t r = 0; r < rule.requirements.size(); ++r)
        add(batch, r, row, rule.requirements[r], &rule, results_.bindings[first + row]);
    }
  }

  void add(Batch& batch, std::size_t r, std::size_t row, RequirementId id, const RuleDef* rule,
           const Binding& binding) {
    if (!batch.tells(r, row)) return add(id, rule, binding);
    Finding finding;
    finding.requirement = id;
    finding.binding = &binding;
    finding.waiver = waivers_.over(model_.requirements[id], binding);
    finding.cases.push_back({});
    batch.tell(r, row, finding.cases[0].outcome);
    results_.findings.push_back(std::move(finding));
  }

  void add(RequirementId id, const RuleDef* rule, const Binding& binding) {
    Finding finding;
    finding.requirement = id;
    finding.binding = &binding;
    finding.waiver = waivers_.over(model_.requirements[id], binding);
    tasks_.push_back({results_.findings.size(), rule});
    results_.findings.push_back(std::move(finding));
  }

  const Model& model_;
  const Build& build_;
  const Names& names_;
  EvaluateOptions options_;
  Waivers waivers_;
  RoundUp rounding_;
  std::shared_ptr<const BuildIndex> index_;
  Judge judge_;
  Results results_;
  std::vector<Task> tasks_;  // what no column told
};

}  // namespace

Results evaluate(const Project& project, const Build& build, const Names& names,
                 const EvaluateOptions& options) {
  return Evaluation(project, build, names, options).run();
}

}  // namespace mm

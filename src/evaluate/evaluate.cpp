#include "evaluate/evaluate.hpp"

#include <algorithm>

#include "evaluate/batch.hpp"
#include "evaluate/graph_findings.hpp"
#include "evaluate/judges.hpp"
#include "evaluate/matches.hpp"

namespace mm {

namespace {

/// The waiver that names the requirement, here or everywhere; of several the one that lasts longest.
std::uint32_t waiver_of(const Build& build, const RequirementDef& requirement, const Binding& binding) {
  const auto touches = [&](const Waiver& waiver, EntityId entity) {
    if (!entity) return false;
    const Instance& instance = build.instances[build.entities[entity].instance];
    return instance.fit_name == waiver.fit_name && (!waiver.place || instance.place == waiver.place);
  };
  std::uint32_t best = no_reg;
  const auto lasts_longer = [&](const Waiver& waiver) {
    if (best == no_reg) return true;
    const std::string& until = build.waivers[best].until;
    return !until.empty() && (waiver.until.empty() || waiver.until > until);
  };
  for (std::uint32_t i = 0; i < build.waivers.size(); ++i) {
    const Waiver& waiver = build.waivers[i];
    if (waiver.requirement != requirement.name || !lasts_longer(waiver)) continue;
    bool here =
        !waiver.fit_name || (binding.joint != no_reg && build.joints[binding.joint].label == waiver.fit_name);
    for (const EntityId entity : binding.locals) here = here || touches(waiver, entity);
    for (const auto& list : binding.lists) {
      for (const EntityId entity : list) here = here || touches(waiver, entity);
    }
    if (here) best = i;
  }
  return best;
}

class Evaluation {
 public:
  Evaluation(const Project& project, const Build& build, const Names& names, const EvaluateOptions& options)
      : model_(project.model),
        build_(build),
        names_(names),
        options_(options),
        index_(std::make_shared<const BuildIndex>(project.model, build)),
        judge_(*index_, names, options) {}

  Results run() {
    take_joints();
    for (const RuleDef& rule : model_.rules) take_rule(rule);
    for (const Expectation& expectation : build_.expectations) {
      if (expectation.word != Expectation::Word::that) continue;
      results_.bindings.emplace_back();
      add(expectation.that, nullptr, results_.bindings.back());
    }
    const LimitsMet met = judge_tasks(judge_, names_, options_, results_.findings, tasks_);
    if (met.combinations) {
      results_.notes.push_back(
          "some requirements read so many slots that their candidates were varied one at a time");
    }
    if (met.steps) {
      results_.notes.push_back(
          "the requirements take more work than one check may do; what was left got less of it");
    }
    results_.graph = find_graph_findings(*index_);
    results_.index = std::move(index_);
    return std::move(results_);
  }

 private:
  void take_joints() {
    std::vector<std::vector<const Binding*>> rows(model_.interfaces.size());
    std::vector<std::size_t> row_of;  // by joint, within its interface
    for (std::uint32_t joint = 0; joint < build_.joints.size(); ++joint) {
      auto& of_interface = rows[build_.joints[joint].interface.index];
      results_.bindings.push_back(binding_of(model_, build_, joint));
      row_of.push_back(of_interface.size());
      of_interface.push_back(&results_.bindings.back());
    }
    std::size_t findings = 0;
    for (std::size_t i = 0; i < rows.size(); ++i)
      findings += rows[i].size() * model_.interfaces[InterfaceId{i}].requirements.size();
    for (const RuleDef& rule : model_.rules)
      findings += rule.requirements.size();  // matched once, most of them
    results_.findings.reserve(findings);
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
      results_.incomplete = true;
      return;
    }
    const std::size_t first = results_.bindings.size();
    std::vector<const Binding*> rows;
    for (Binding& match : matches) {
      results_.bindings.push_back(std::move(match));
      rows.push_back(&results_.bindings.back());
    }
    Batch batch(judge_.bench, std::move(rows), &rule, rule.requirements, options_);
    for (std::size_t row = 0; row < matches.size(); ++row) {
      for (std::size_t r = 0; r < rule.requirements.size(); ++r)
        add(batch, r, row, rule.requirements[r], &rule, results_.bindings[first + row]);
    }
  }

  void add(const Batch& batch, std::size_t r, std::size_t row, RequirementId id, const RuleDef* rule,
           const Binding& binding) {
    if (!batch.tells(r, row)) return add(id, rule, binding);
    Finding finding;
    finding.requirement = id;
    finding.binding = &binding;
    finding.waiver = waiver_of(build_, model_.requirements[id], binding);
    finding.cases.emplace_back();
    batch.tell(r, row, finding.cases[0].outcome);
    results_.findings.push_back(std::move(finding));
  }

  void add(RequirementId id, const RuleDef* rule, const Binding& binding) {
    Finding finding;
    finding.requirement = id;
    finding.binding = &binding;
    finding.waiver = waiver_of(build_, model_.requirements[id], binding);
    tasks_.push_back({results_.findings.size(), rule});
    results_.findings.push_back(std::move(finding));
  }

  const Model& model_;
  const Build& build_;
  const Names& names_;
  EvaluateOptions options_;
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

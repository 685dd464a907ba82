#include "evaluate/evaluate.hpp"

#include <algorithm>

#include "evaluate/cases.hpp"
#include "evaluate/graph_findings.hpp"
#include "evaluate/matches.hpp"

namespace mm {

namespace {

/// The waiver that names the requirement, here or everywhere.
std::uint32_t waiver_of(const Build& build, const RequirementDef& requirement, const Binding& binding) {
  const auto touches = [&](const Waiver& waiver, EntityId entity) {
    if (!entity) return false;
    const Instance& instance = build.instances[build.entities[entity].instance];
    return instance.fit_name == waiver.fit_name && (!waiver.place || instance.place == waiver.place);
  };
  for (std::uint32_t i = 0; i < build.waivers.size(); ++i) {
    const Waiver& waiver = build.waivers[i];
    if (waiver.requirement != requirement.name) continue;
    bool here =
        !waiver.fit_name || (binding.joint != no_reg && build.joints[binding.joint].label == waiver.fit_name);
    for (const EntityId entity : binding.locals) here = here || touches(waiver, entity);
    for (const auto& list : binding.lists) {
      for (const EntityId entity : list) here = here || touches(waiver, entity);
    }
    if (here) return i;
  }
  return no_reg;
}

class Evaluation {
 public:
  Evaluation(const Project& project, const Build& build, const Names& names, const EvaluateOptions& options)
      : model_(project.model),
        build_(build),
        names_(names),
        options_(options),
        designations_(project.model),
        bench_(project.model, build, designations_),
        judge_(bench_, names, options) {}

  Results run() {
    for (std::uint32_t joint = 0; joint < build_.joints.size(); ++joint) {
      const Binding binding = binding_of(model_, build_, joint);
      for (const RequirementId requirement : model_.interfaces[build_.joints[joint].interface].requirements) {
        add(requirement, nullptr, binding);
      }
    }
    for (const RuleDef& rule : model_.rules) {
      std::vector<Binding> matches;
      bench_.set_steps(static_cast<std::int64_t>(options_.max_matches) * 64);
      if (!find_matches(bench_, rule, options_.max_matches, matches) || bench_.spent()) {
        results_.notes.push_back(
            "rule " + std::string(names_.text(rule.name)) + ": more than " +
            std::to_string(options_.max_matches) +
            " combinations of parts to look at, so it was not judged. Tie its variables by "
            "an equality in \"where\", as a.code = b.code, or allow more with "
            "--max-matches");
        results_.incomplete = true;
        continue;
      }
      for (const Binding& binding : matches) {
        for (const RequirementId requirement : rule.requirements) add(requirement, &rule, binding);
      }
    }
    for (const Expectation& expectation : build_.expectations) {
      if (expectation.word == Expectation::Word::that) add(expectation.that, nullptr, Binding{});
    }
    if (judge_.limited()) {
      results_.notes.push_back(
          "some requirements read so many slots that their candidates were varied one at a time");
    }
    if (judge_.out_of_steps()) {
      results_.notes.push_back(
          "the requirements take more work than one check may do; what was left got less of it");
    }
    results_.graph = find_graph_findings(bench_.index);
    return std::move(results_);
  }

 private:
  void add(RequirementId id, const RuleDef* rule, const Binding& binding) {
    Finding finding;
    finding.requirement = id;
    finding.binding = binding;
    finding.waiver = waiver_of(build_, model_.requirements[id], binding);
    const Claim claim{&model_.requirements[id], rule, &finding.binding};
    judge_.judge(finding, claim);
    results_.findings.push_back(std::move(finding));
  }

  const Model& model_;
  const Build& build_;
  const Names& names_;
  EvaluateOptions options_;
  RoundUp rounding_;
  Designations designations_;
  Bench bench_;
  CaseJudge judge_;
  Results results_;
};

}  // namespace

Results evaluate(const Project& project, const Build& build, const Names& names,
                 const EvaluateOptions& options) {
  return Evaluation(project, build, names, options).run();
}

}  // namespace mm

// Conflicts, worst first, and sets of requirements that cannot hold together.
#include <algorithm>

#include "report/check_sections.hpp"

namespace mm {

namespace {

/// need before should; then hazards; then as judged.
int rank(const CheckView& view, const Summary& summary) {
  const RequirementDef& requirement = view.scene.requirement(view.finding(summary));
  return (summary.weight == Weight::need ? 0 : 2) + (requirement.hazard ? 0 : 1);
}

/// "steel_14 misses by 1.6 mm; alloy_15 misses by 4 mm": where every candidate fails.
std::string every_candidate(const CheckView& view, const Summary& summary) {
  const Finding& finding = view.finding(summary);
  const RequirementDef& requirement = view.scene.requirement(finding);
  std::vector<std::string> items;
  for (const Option& option : summary.options) {
    std::vector<std::string> names;
    for (const auto& [fit, candidate] : option.choices)
      names.push_back(candidate_name(view.scene, fit, candidate));
    const std::string margin = margin_text(view.scene, requirement, finding.cases[option.now].outcome);
    if (!margin.empty()) items.push_back(listed(names, " with ") + " " + margin);
    if (items.size() == 6) break;
  }
  return items.empty() ? std::string("whichever is chosen") : "whichever is chosen: " + listed(items, "; ");
}

}  // namespace

std::string marks(const CheckView& view, const Summary& summary) {
  std::string out;
  const RequirementDef& requirement = view.scene.requirement(view.finding(summary));
  if (summary.weight == Weight::should) out += " [should]";
  std::string hazard = view.scene.text(requirement.hazard);
  std::replace(hazard.begin(), hazard.end(), '_', ' ');
  if (!hazard.empty()) out += " [" + hazard + "]";
  if (summary.waiver_expired) out += " [waiver has expired]";
  return out;
}

std::string reason_and_remedy(const CheckView& view, const Finding& finding, std::size_t case_index) {
  const Scene& scene = view.scene;
  const RequirementDef& requirement = scene.requirement(finding);
  const auto filled = [&](const Template& text) {
    return text.empty() ? std::string() : printable(view.tracer.fill(finding, case_index, text));
  };
  std::string out = sentence(filled(requirement.because));
  const std::string remedy = filled(requirement.remedy);
  if (!remedy.empty()) out += (out.empty() ? "" : " ") + sentence("Remedy: " + remedy);
  return out;
}

void tell_entry(Page& page, const CheckView& view, const Entry& entry, std::size_t case_index, Tone tone) {
  const Scene& scene = view.scene;
  const Finding& finding = view.finding(*entry.first);
  const RequirementDef& requirement = scene.requirement(finding);
  const Outcome& outcome = finding.cases[case_index].outcome;
  page.text(entry_head(scene, entry, false) + marks(view, *entry.first), 1, 4, tone,
            scene.text(requirement.name).size());
  const TraceNode tree = view.tracer.trace(finding, case_index);
  const std::string rule = expression_text(scene, requirement.test_expr);
  const std::string numbers =
      expression_with_numbers(scene, view.owners, requirement.test_expr, tree, requirement.margin_unit);
  std::string line = rule;
  if (!numbers.empty() && numbers != rule) line += ": " + numbers;
  const std::string margin = margin_text(scene, requirement, outcome);
  if (!margin.empty()) line += ", " + margin;
  if (outcome.undefined && !outcome.undefined_reason.empty())
    line += ", " + printable(outcome.undefined_reason);
  page.text(line, 4, 6);
  const std::string reads = reads_text(scene, view.owners, outcome, 4);
  if (!reads.empty()) page.text(reads, 4, 6);
  const std::string why = reason_and_remedy(view, finding, case_index);
  if (!why.empty()) page.text(why, 4, 4);
}

void conflicts_section(Page& page, const CheckView& view) {
  auto entries = fold(view.scene, view.with(Word::conflict));
  if (entries.empty()) return;
  std::stable_sort(entries.begin(), entries.end(), [&](const Entry& a, const Entry& b) {
    return rank(view, *a.first) < rank(view, *b.first);
  });
  page.heading("CONFLICTS", Tone::bad);
  for (const Entry& entry : entries) {
    tell_entry(page, view, entry, entry.first->shown_case, Tone::bad);
    if (entry.first->options.size() > 1)
      page.text("Every candidate fails, " + every_candidate(view, *entry.first) + ".", 4, 6);
    if (entry.first->text.find(';') != std::string::npos) page.text(sentence(entry.first->text), 4, 6);
  }
}

void conflict_sets_section(Page& page, const CheckView& view) {
  const Scene& scene = view.scene;
  if (scene.results.conflict_sets.empty()) return;
  page.heading("CANNOT ALL HOLD TOGETHER", Tone::bad);
  for (const ConflictSet& set : scene.results.conflict_sets) {
    std::vector<std::string> names, values;
    for (const auto& [finding, index] : set.members) {
      (void)index;
      Entry entry{&view.summaries[finding], {&view.summaries[finding]}, {}};
      if (const Symbol place = shared_place(scene, scene.results.findings[finding]))
        entry.places.push_back(place);
      names.push_back(entry_head(scene, entry, false));
    }
    for (const CellId cell : set.shared)
      if (const CellOwner* owner = view.owners.of(cell))
        values.push_back(attribute_name(scene, *owner, true) + " " + as_written(scene, cell));
    page.text(listed(names, "; and ") + ".", 1, 4, Tone::bad, 0);
    if (!values.empty()) page.text("They pull apart: " + listed(values) + ".", 4, 6);
  }
}

}  // namespace mm

// Conflicts, worst first, gathered by what they stand on; and sets of requirements that cannot hold together.
#include <algorithm>
#include <map>

#include "report/check_sections.hpp"

namespace mm {

namespace {

constexpr std::size_t longest_rule = 160;  // characters; a longer one is for `why`

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
  return items.empty() ? std::string("Every candidate fails.")
                       : "Every candidate fails: " + listed(items, "; ") + ".";
}

void tell_conflict(Page& page, const CheckView& view, const Entry& entry) {
  const Summary& summary = *entry.first;
  const Finding& finding = view.finding(summary);
  const RequirementDef& requirement = view.scene.requirement(finding);
  const Outcome& outcome = finding.cases[summary.shown_case].outcome;
  const std::string name = view.scene.text(requirement.name);
  std::string line = name + (summary.weight == Weight::should ? " (should): " : ": ");
  const std::string numbers = short_numbers(view, finding, summary.shown_case);
  const std::string margin = margin_text(view.scene, requirement, outcome);
  line +=
      numbers.empty() ? (margin.empty() ? "fails" : margin) : numbers + (margin.empty() ? "" : ", " + margin);
  if (summary.waiver_expired) line += " (its waiver has expired)";
  page.text(line, 3, 6, Tone::bad, name.size());
  const std::string why = reason_and_remedy(view, finding, summary.shown_case);
  if (!why.empty()) page.text(why, 6, 6);
  if (summary.options.size() > 1) page.text(every_candidate(view, summary), 6, 6);
  if (summary.text.find(';') != std::string::npos) page.text(sentence(summary.text), 6, 6);
}

}  // namespace

std::vector<std::pair<std::string, std::vector<const Entry*>>> by_subject(const CheckView& view,
                                                                          const std::vector<Entry>& entries) {
  std::vector<std::pair<std::string, std::vector<const Entry*>>> out;
  std::map<std::string, std::size_t> seen;
  for (const Entry& entry : entries) {
    const Finding& finding = view.finding(*entry.first);
    std::string head = subject_text(view.scene, finding, false);
    if (head.empty()) head = "the whole build";
    if (entry.places.empty() && entry.members.size() > 1)
      head += ", " + std::to_string(entry.members.size()) + " times";
    head += places_text(view.scene, entry.places) + hazard_mark(view, *entry.first);
    const auto [at, added] = seen.emplace(head, out.size());
    if (added) out.push_back({std::move(head), {}});
    out[at->second].second.push_back(&entry);
  }
  return out;
}

std::string hazard_mark(const CheckView& view, const Summary& summary) {
  std::string hazard = view.scene.text(view.scene.requirement(view.finding(summary)).hazard);
  std::replace(hazard.begin(), hazard.end(), '_', ' ');
  return hazard.empty() ? hazard : " [" + hazard + "]";
}

std::string marks(const CheckView& view, const Summary& summary) {
  std::string out = summary.weight == Weight::should ? " [should]" : "";
  out += hazard_mark(view, summary);
  if (summary.waiver_expired) out += " [waiver has expired]";
  return out;
}

std::string short_numbers(const CheckView& view, const Finding& finding, std::size_t case_index) {
  const RequirementDef& requirement = view.scene.requirement(finding);
  const TraceNode tree = view.tracer.trace(finding, case_index);
  const std::string numbers =
      expression_with_numbers(view.scene, view.owners, requirement.test_expr, tree, requirement.margin_unit);
  return display_width(numbers) > longest_rule ? std::string() : numbers;
}

std::string reason_and_remedy(const CheckView& view, const Finding& finding, std::size_t case_index) {
  const RequirementDef& requirement = view.scene.requirement(finding);
  const auto filled = [&](const Template& text) {
    return text.empty() ? std::string() : printable(view.tracer.fill(finding, case_index, text));
  };
  std::string out = sentence(filled(requirement.because));
  const std::string remedy = filled(requirement.remedy);
  if (!remedy.empty()) out += (out.empty() ? "" : " ") + sentence("Remedy: " + remedy);
  return out;
}

void conflicts_section(Page& page, const CheckView& view) {
  auto entries = fold(view.scene, view.owners, view.with(Word::conflict));
  if (entries.empty()) return;
  std::stable_sort(entries.begin(), entries.end(), [&](const Entry& a, const Entry& b) {
    return rank(view, *a.first) < rank(view, *b.first);
  });
  page.heading("CONFLICTS", Tone::bad);
  for (const auto& [head, group] : by_subject(view, entries)) {
    page.text(head, 1, 3, Tone::bold);
    std::vector<const Outcome*> outcomes;
    for (const Entry* entry : group) {
      tell_conflict(page, view, *entry);
      for (const Summary* member : entry->members)
        outcomes.push_back(&view.finding(*member).cases[member->shown_case].outcome);
    }
    const std::string reads = reads_text(view.scene, view.owners, outcomes, 6);
    if (!reads.empty()) page.text("Values: " + reads, 3, 6, Tone::faint, 7);
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

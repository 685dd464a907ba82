// Conflicts at length, for --all: with the reason and every value.
#include "report/check_sections.hpp"
#include "report/options.hpp"

namespace mm {

namespace {

/// "steel_14 misses by 1.6 mm; alloy_15 misses by 4 mm": where every candidate fails.
std::string every_candidate(const CheckView& view, const Summary& summary) {
  const Finding& finding = view.finding(summary);
  const RequirementDef& requirement = view.scene.requirement(finding);
  std::vector<std::string> items;
  for (const Option& option : summary.options) {
    const std::string margin = margin_text(view.scene, requirement, finding.cases[option.now].outcome);
    if (!margin.empty()) items.push_back(option_name(view.scene, option, " with ") + " " + margin);
    if (items.size() == 6) break;
  }
  return items.empty() ? std::string("Every candidate fails.")
                       : "Every candidate fails: " + listed(items, "; ") + ".";
}

void tell_conflict(Page& page, const CheckView& view, const Entry& entry) {
  const Summary& summary = *entry.first;
  const Finding& finding = view.finding(summary);
  const RequirementDef& requirement = view.scene.requirement(finding);
  const std::string name = view.scene.text(requirement.name);
  std::string line = name + (summary.weight == Weight::should ? " (should): " : ": ");
  line += failure_at_length(view, finding, summary.shown_case) +
          evidence_tail(finding.cases[summary.shown_case].outcome);
  if (summary.waiver_expired) line += " (its waiver has expired)";
  page.text(line, 3, 6, Tone::bad, name.size());
  const std::string why = reason_and_remedy(view, summary);
  if (!why.empty()) page.text(why, 6, 6);
  if (summary.options.size() > 1) page.text(every_candidate(view, summary), 6, 6);
  if (summary.text().find(';') != std::string_view::npos)
    page.text(sentence(std::string(summary.text())), 6, 6);
}

}  // namespace

void conflicts_section_at_length(Page& page, const CheckView& view) {
  auto entries = fold(view.scene, view.with(Word::conflict));
  worst_first(entries);
  for (const SubjectGroup& group : by_subject(view, entries)) {
    page.text(subject_head(view, group), 1, 3, Tone::bold);
    std::vector<const Outcome*> outcomes;
    for (const Entry* entry : group) {
      tell_conflict(page, view, *entry);
      for (const Summary* member : entry->members)
        outcomes.push_back(&view.finding(*member).cases[member->shown_case].outcome);
    }
    const std::string reads = reads_text(view.scene, outcomes, 6);
    if (!reads.empty()) page.text("Values: " + reads, 3, 6, Tone::faint, 7);
  }
}

}  // namespace mm

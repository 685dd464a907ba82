// Conflicts, worst first, gathered by what they stand on; and sets of requirements that cannot hold together.
#include <fmt/format.h>
#include <algorithm>
#include <unordered_map>
#include <unordered_set>

#include "base/hash.hpp"
#include "base/index_table.hpp"
#include "report/check_sections.hpp"
#include "report/options.hpp"

namespace mm {

namespace {

constexpr std::size_t most_subjects = 20;  // on the short page

/// need before should; then hazards; then as judged.
int rank(const Summary& summary) {
  return (summary.weight == Weight::need ? 0 : 2) + (summary.hazard ? 0 : 1);
}

const Outcome& outcome_of(const CheckView& view, const Entry& entry) {
  return view.finding(*entry.first).cases[entry.first->shown_case].outcome;
}

/// One entry a requirement and its parts, whatever the numbers at each place; the worst stands for all.
std::vector<Entry> without_places(const CheckView& view, std::vector<Entry> entries) {
  std::vector<Entry> out;
  std::unordered_map<std::string, std::size_t> seen;
  for (Entry& entry : entries) {
    if (entry.places.empty()) {
      out.push_back(std::move(entry));
      continue;
    }
    const Finding& finding = view.finding(*entry.first);
    const auto [at, added] = seen.emplace(
        fmt::format("{}|{}", finding.requirement.index, subject_text(view.scene, finding)), out.size());
    if (added) {
      out.push_back(std::move(entry));
      continue;
    }
    Entry& whole = out[at->second];
    whole.varied = true;
    if (least_miss(outcome_of(view, entry)) > least_miss(outcome_of(view, whole))) whole.first = entry.first;
    whole.members.insert(whole.members.end(), entry.members.begin(), entry.members.end());
    whole.places.insert(whole.places.end(), entry.places.begin(), entry.places.end());
  }
  return out;
}

/// Everything that `of` read was read by `lead` too: they fail for the same values.
bool same_cause(const CheckView& view, const Entry& lead, const Entry& of) {
  const auto& known = outcome_of(view, lead).reads;
  const auto& reads = outcome_of(view, of).reads;
  return !reads.empty() && std::all_of(reads.begin(), reads.end(), [&](CellId cell) {
    return std::find(known.begin(), known.end(), cell) != known.end();
  });
}

std::string name_of(const CheckView& view, const Entry& entry) {
  return view.scene.text(view.scene.requirement(view.finding(*entry.first)).name);
}

/// What is there too few of.
void tell_shortages(Page& page, const CheckView& view) {
  for (const GraphFinding& graph : view.scene.results.graph)
    if (graph_word(graph) == Word::conflict) {
      const std::string line = graph_text(view.scene, graph, view.all);
      page.text(line, 1, 4, Tone::bad, line.find(':'));
    }
}

/// Sets of findings of which one fails whatever is chosen or done.
void tell_no_choices(Page& page, const CheckView& view) {
  const auto& lines = view.no_choices;
  for (std::size_t i = 0; i < lines.size() && (view.all || i < most_subjects); ++i)
    page.text(view.all ? lines[i] : clipped(lines[i], 4, 1, 4), 1, 4, Tone::bad, lines[i].find(':'));
  if (!view.all && lines.size() > most_subjects)
    page.text("and " + counted(lines.size() - most_subjects, "more conflict") + whatever_text(view) +
                  " (--all names " + (lines.size() == most_subjects + 1 ? "it)" : "them)"),
              1, 4);
}

/// `head`: what it stands on, where that has no line of its own.
void tell_conflict(Page& page, const CheckView& view, const Entry& entry,
                   const std::vector<const Entry*>& also, const std::string& head) {
  const Summary& summary = *entry.first;
  const Finding& finding = view.finding(summary);
  const RequirementDef& requirement = view.scene.requirement(finding);
  const std::string name = name_of(view, entry);
  std::string line = head.empty() ? name : head + ", " + name;
  const std::size_t head_end = line.size();
  line += (summary.weight == Weight::should ? " (should): " : ": ");
  const Option* nearest = nearest_option(view.scene, summary);
  const std::size_t shown = nearest == nullptr ? summary.shown_case : shown_case_of(summary, *nearest);
  line += failure_text(view, finding, shown) + evidence_tail(finding.cases[shown].outcome);
  if (entry.varied) line += fmt::format(" (the worst of {})", entry.members.size());
  if (nearest != nullptr)
    line += ", with " + option_name(view.scene, *nearest) + ", the nearest of " +
            std::to_string(summary.options.size());
  else if (summary.options.size() > 1)
    line += ", with any candidate";
  if (const auto after = summary.text().find(';'); after != std::string_view::npos)
    line += summary.text().substr(after);
  if (summary.waiver_expired) line += " (its waiver has expired)";
  if (!also.empty()) {
    std::vector<std::string> names;
    for (const Entry* other : also) names.push_back(name_of(view, *other));
    line += "; also fails: " + listed(names);
  }
  const std::string remedy = told_by_option(view, summary, requirement.remedy);
  if (!remedy.empty()) line += ". " + sentence("Remedy: " + remedy);
  const std::size_t first = head.empty() ? 2 : 1;
  page.text(clipped(line, head.empty() ? 3 : 4, first, first + 3), first, first + 3, Tone::bad, head_end);
}

/// ", 3 times", " at front_left and rear_left" or "".
std::string times_and_places(const CheckView& view, const Entry& entry) {
  if (!entry.places.empty()) return places_text(view.scene, entry.places);
  return entry.members.size() > 1 ? ", " + std::to_string(entry.members.size()) + " times" : std::string();
}

}  // namespace

std::string whatever_text(const CheckView& view) {
  const auto& sets = view.conclusion.no_choices;
  const bool chosen =
      std::any_of(sets.begin(), sets.end(), [](const NoChoice& s) { return !s.slots.empty(); });
  const bool done = std::any_of(sets.begin(), sets.end(), [](const NoChoice& s) { return s.slots.empty(); });
  return !done ? " whatever is chosen" : chosen ? " whatever is chosen or done" : " whatever is done";
}

void worst_first(std::vector<Entry>& entries) {
  std::vector<std::pair<int, std::size_t>> order;
  for (std::size_t i = 0; i < entries.size(); ++i) order.emplace_back(rank(*entries[i].first), i);
  if (std::is_sorted(order.begin(), order.end())) return;
  std::sort(order.begin(), order.end());
  std::vector<Entry> sorted;
  sorted.reserve(entries.size());
  for (const auto& [its_rank, at] : order) sorted.push_back(std::move(entries[at]));
  entries = std::move(sorted);
}

std::vector<SubjectGroup> by_subject(const CheckView& view, const std::vector<Entry>& entries) {
  std::vector<SubjectGroup> out;
  IndexTable known;
  SubjectHash subject(view.scene);
  for (const Entry& entry : entries) {
    const Finding& finding = view.finding(*entry.first);
    const std::string tail = times_and_places(view, entry);
    const std::uint64_t hash = mixed(subject.of(finding), hash_of(tail));
    std::uint32_t at = known.find(hash, [&](std::uint32_t i) {
      const Entry& other = *out[i].front();
      const Finding& its = view.finding(*other.first);
      return tail == times_and_places(view, other) &&
             (its.binding == finding.binding ||
              subject_text(view.scene, its) == subject_text(view.scene, finding));
    });
    if (at == IndexTable::none) {
      at = static_cast<std::uint32_t>(out.size());
      known.add(hash, at);
      out.emplace_back();
    }
    out[at].push_back(&entry);
  }
  return out;
}

std::string subject_head(const CheckView& view, const SubjectGroup& group) {
  std::string out =
      subject_text(view.scene, view.finding(*group[0]->first), false, view.all ? SIZE_MAX : most_parts_named);
  if (out.empty()) out = "the whole build";
  out += times_and_places(view, *group[0]);
  std::string told;
  for (const Entry* entry : group) {
    const std::string mark = hazard_mark(view, *entry->first);
    if (told.find(mark) == std::string::npos) told += mark;
  }
  return out + told;
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

void conflicts_section(Page& page, const CheckView& view) {
  auto entries = fold(view.scene, view.with(Word::conflict));
  const auto& graph = view.scene.results.graph;
  const bool short_of = std::any_of(graph.begin(), graph.end(),
                                    [&](const GraphFinding& g) { return graph_word(g) == Word::conflict; });
  if (entries.empty() && !short_of && view.no_choices.empty()) return;
  page.heading("CONFLICTS", Tone::bad);
  if (view.all) {
    conflicts_section_at_length(page, view);
    tell_shortages(page, view);
    return tell_no_choices(page, view);
  }
  entries = without_places(view, std::move(entries));
  worst_first(entries);
  const auto groups = by_subject(view, entries);
  for (std::size_t g = 0; g < groups.size() && g < most_subjects; ++g) {
    const SubjectGroup& group = groups[g];
    const std::string head = subject_head(view, group);
    std::vector<std::pair<const Entry*, std::vector<const Entry*>>> leads;
    for (const Entry* entry : group) {
      const auto lead = std::find_if(leads.begin(), leads.end(),
                                     [&](const auto& l) { return same_cause(view, *l.first, *entry); });
      if (lead == leads.end())
        leads.push_back({entry, {}});
      else
        lead->second.push_back(entry);
    }
    if (leads.size() > 1) page.text(head, 1, 3, Tone::bold);
    for (const auto& [entry, also] : leads)
      tell_conflict(page, view, *entry, also, leads.size() > 1 ? std::string() : head);
  }
  if (groups.size() > most_subjects)
    page.text("and conflicts on " + counted(groups.size() - most_subjects, "more set") + " of parts", 1, 4);
  tell_shortages(page, view);
  tell_no_choices(page, view);
}

std::vector<std::string> no_choice_texts(const CheckView& view) {
  std::vector<std::string> out;
  std::unordered_set<std::string> known;
  for (const NoChoice& set : view.conclusion.no_choices) {
    std::string line = no_choice_text(view.scene, set);
    std::string told;
    for (const std::size_t finding : set.findings) {
      const std::string mark = hazard_mark(view, view.summaries[finding]);
      if (told.find(mark) == std::string::npos) told += mark;
    }
    line.insert(line.find(':'), told);
    if (known.insert(line).second) out.push_back(std::move(line));
  }
  return out;
}

}  // namespace mm

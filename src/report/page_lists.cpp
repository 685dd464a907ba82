// The shorter lists of the check page.
#include <algorithm>

#include "report/check_sections.hpp"
#include "report/options.hpp"

namespace mm {

namespace {

/// Why, and what to do; on the short page the one or the other.
std::string reason_of(const CheckView& view, const Entry& entry, bool remedy_first) {
  const Summary& summary = *entry.first;
  if (view.all) return reason_and_remedy(view, summary);
  const RequirementDef& requirement = view.scene.requirement(view.finding(summary));
  const std::string because = told_by_option(view, summary, requirement.because);
  const std::string remedy = told_by_option(view, summary, requirement.remedy);
  return sentence(remedy_first ? (remedy.empty() ? because : remedy) : (because.empty() ? remedy : because));
}

std::string head_with_reason(const CheckView& view, const Entry& entry) {
  const std::string why = reason_of(view, entry, false);
  const std::string with =
      only_with(view.scene, *entry.first, Word::caution) + only_after(*entry.first, Word::caution);
  if (!view.all && !why.empty())
    return view.scene.text(view.scene.requirement(view.finding(*entry.first)).name) +
           places_text(view.scene, entry.places) + hazard_mark(view, *entry.first) + with + ": " + why;
  return short_head(view, entry) + marks(view, *entry.first) + with + (why.empty() ? "" : ". " + why);
}

}  // namespace

void needs_also_section(Page& page, const CheckView& view) {
  const auto entries = fold(view.scene, view.with(Word::needs_also));
  if (entries.empty()) return;
  page.heading("NEEDS ALSO", Tone::doubtful);
  for (const Entry& entry : entries) {
    const std::string why = reason_of(view, entry, true);
    const std::string head = short_head(view, entry) + only_after(*entry.first, Word::needs_also);
    page.text((why.empty() ? head : head + ": " + why), 1, 4);
  }
}

void cautions_section(Page& page, const CheckView& view) {
  const auto entries = fold(view.scene, view.with(Word::caution));
  if (entries.empty()) return;
  page.heading("CAUTIONS", Tone::doubtful);
  for (const Entry& entry : entries) page.text(head_with_reason(view, entry), 1, 4);
}

namespace {

/// "goes: wheel + hub: conflict, misses by 1 mm. Waived by me until 2026-06-01: to be bored (shop.build:10)"
std::string waiver_text(const CheckView& view, const Entry& entry, std::string_view waived) {
  const Scene& scene = view.scene;
  const Finding& finding = view.finding(*entry.first);
  const Waiver& waiver = scene.build.waivers[finding.waiver];
  const Summary& summary = *entry.first;
  const auto told = [&](const Option& option, std::size_t case_index) {
    const std::string margin =
        margin_text(scene, scene.requirement(finding), finding.cases[case_index].outcome);
    return (option.text.empty() ? std::string(summary.text()) : option.text) +
           (margin.empty() ? "" : ", " + margin);
  };
  std::string line = short_head(view, entry) + ": " + by_option(scene, summary, told);
  line += std::string(waived) +
          (waiver.by.empty() ? std::string(" by nobody named") : " by " + printable(waiver.by));
  line += waiver.until.empty() ? ", with no end" : " until " + printable(waiver.until);
  if (!waiver.until.empty() && scene.today.empty()) line += " (not compared with a date: --today)";
  if (!waiver.because.empty()) line += ": " + printable(waiver.because);
  return line + " (" + where(scene, waiver.span, true) + ")";
}

}  // namespace

void waived_section(Page& page, const CheckView& view) {
  std::vector<const Summary*> waived, expired;
  for (const Summary& summary : view.summaries) {
    if (summary.waived) waived.push_back(&summary);
    if (summary.waiver_expired) expired.push_back(&summary);
  }
  if (!waived.empty()) page.heading("WAIVED (still true)", Tone::doubtful);
  for (const Entry& entry : fold(view.scene, waived)) page.text(waiver_text(view, entry, ". Waived"), 1, 4);
  if (!expired.empty()) page.heading("WAIVERS THAT HAVE EXPIRED (they no longer count)", Tone::doubtful);
  for (const Entry& entry : fold(view.scene, expired))
    page.text(waiver_text(view, entry, ". It was waived"), 1, 4);
}

std::string graph_text(const Scene& scene, const GraphFinding& graph, bool at_length) {
  const auto part = [&] {
    const BuildPart& p = scene.build.parts[graph.part];
    const bool told = at_length && p.decl->doc && !p.decl->doc->text.empty();
    const std::string chosen =
        graph.slot == no_reg ? "" : " chosen for " + scene.text(scene.build.fits[graph.slot].name);
    return scene.text(p.name) + (told ? " (" + printable(p.decl->doc->text) + ")" : "") + chosen;
  };
  const auto at_part = [&] {
    const std::string at = where(scene, scene.build.parts[graph.part].span, true);
    return at.empty() ? std::string() : ", " + at;
  };
  const auto numbers = [&] {
    return decimal_text(graph.needed) + " needed, " + decimal_text(graph.there) + " there";
  };
  const auto entity = [&] { return entity_text(scene, graph.entity, false); };
  switch (graph.what) {
    case GraphFinding::What::quantity_short:
      return "quantity: " + part() + ": " + numbers() + ": " + decimal_text(graph.needed - graph.there) +
             " short" + at_part();
    case GraphFinding::What::hand_short:
      return "hand: " + part() + ": " + scene.text(graph.hand) + ": " + numbers() + at_part();
    case GraphFinding::What::quantity_unstated:
      return "quantity: " + part() + ": " + decimal_text(graph.needed) + " needed; say how many there are" +
             at_part();
    case GraphFinding::What::open_face:
      return "open: " + entity() + " is joined to nothing";
    case GraphFinding::What::left_over_part:
      return "left over: " + part() + " is fitted nowhere" + at_part();
    case GraphFinding::What::unjoined_part:
      return "left over: " + entity() + " is fitted but joined to nothing";
  }
  return {};
}

void all_section(Page& page, const CheckView& view) {
  const Scene& scene = view.scene;
  page.heading("ALL FINDINGS");
  std::vector<const Summary*> all;
  for (const Summary& summary : view.summaries) all.push_back(&summary);
  const auto entries = fold(scene, all);
  for (const SubjectGroup& group : by_subject(view, entries)) {
    page.text(subject_head(view, group), 1, 3, Tone::bold);
    for (const Entry* entry : group) {
      const Summary& summary = *entry->first;
      const Finding& finding = view.finding(summary);
      const RequirementDef& requirement = scene.requirement(finding);
      std::string line =
          scene.text(requirement.name) + ": " + (summary.waived ? "waived: " : "") + summary.said;
      const std::string margin = summary.word == Word::choice ? std::string() : least_margin(scene, summary);
      if (!margin.empty()) line += ", " + margin;
      line += " (" + where(scene, requirement.span) + "; ";
      page.text(line + (requirement.source.empty() ? "no source given" : printable(requirement.source)) + ")",
                3, 6);
    }
  }
}

}  // namespace mm

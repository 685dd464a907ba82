// The shorter lists of the check page.
#include "report/check_sections.hpp"

namespace mm {

namespace {

std::string head_with_reason(const CheckView& view, const Entry& entry) {
  const std::string why = reason_and_remedy(view, view.finding(*entry.first), entry.first->shown_case);
  return entry_head(view.scene, entry, false) + marks(view, *entry.first) + (why.empty() ? "" : ". " + why);
}

std::string graph_text(const Scene& scene, const GraphFinding& graph) {
  const auto part = [&] {
    const BuildPart& p = scene.build.parts[graph.part];
    return scene.text(p.name) + (p.doc.empty() ? "" : " (" + printable(p.doc) + ")");
  };
  const auto at_part = [&] {
    const std::string at = where(scene, scene.build.parts[graph.part].span, true);
    return at.empty() ? std::string() : ", " + at;
  };
  const auto numbers = [&] {
    return decimal_text(graph.needed) + " needed, " + decimal_text(graph.there) + " there";
  };
  const auto entity = [&] {
    return printable(entity_name(scene.model(), scene.build, graph.entity, scene.names));
  };
  switch (graph.what) {
    case GraphFinding::What::quantity_short:
      return "quantity: " + part() + ": " + numbers() + ": " +
             decimal_text(Rational(graph.needed - graph.there)) + " short" + at_part();
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

}  // namespace

void needs_also_section(Page& page, const CheckView& view) {
  const auto entries = fold(view.scene, view.owners, view.with(Word::needs_also));
  if (entries.empty()) return;
  page.heading("NEEDS ALSO", Tone::doubtful);
  for (const Entry& entry : entries) {
    const std::string why = reason_and_remedy(view, view.finding(*entry.first), entry.first->shown_case);
    const std::string head = entry_head(view.scene, entry, false);
    page.text("- " + (why.empty() ? head : head + ". " + why), 1, 4);
  }
}

void cautions_section(Page& page, const CheckView& view) {
  const auto entries = fold(view.scene, view.owners, view.with(Word::caution));
  if (entries.empty()) return;
  page.heading("CAUTIONS", Tone::doubtful);
  for (const Entry& entry : entries) page.text("- " + head_with_reason(view, entry), 1, 4);
}

void waived_section(Page& page, const CheckView& view) {
  const Scene& scene = view.scene;
  std::vector<const Summary*> waived;
  for (const Summary& summary : view.summaries)
    if (summary.waived) waived.push_back(&summary);
  if (waived.empty()) return;
  page.heading("WAIVED (still true)", Tone::doubtful);
  for (const Entry& entry : fold(scene, view.owners, waived)) {
    const Finding& finding = view.finding(*entry.first);
    const Waiver& waiver = scene.build.waivers[finding.waiver];
    std::string line = entry_head(scene, entry, false) + ": " + entry.first->text;
    const std::string margin =
        margin_text(scene, scene.requirement(finding), finding.cases[entry.first->shown_case].outcome);
    if (!margin.empty()) line += ", " + margin;
    line +=
        ". Waived" + (waiver.by.empty() ? std::string(" by nobody named") : " by " + printable(waiver.by));
    line += waiver.until.empty() ? ", with no end" : " until " + printable(waiver.until);
    if (!waiver.because.empty()) line += ": " + printable(waiver.because);
    page.text(line + " (" + where(scene, waiver.span, true) + ")", 1, 4);
  }
}

void listed_section(Page& page, const CheckView& view) {
  const auto& graph = view.scene.results.graph;
  if (graph.empty()) return;
  page.heading("NUMBER, HAND AND LOOSE ENDS");
  constexpr Word order[] = {Word::conflict, Word::unknown, Word::not_applicable};
  for (const Word word : order)
    for (const GraphFinding& finding : graph)
      if (graph_word(finding.what) == word)
        page.text((word == Word::conflict ? "conflict: " : "") + graph_text(view.scene, finding), 1, 4,
                  word == Word::conflict ? Tone::bad : Tone::plain, word == Word::conflict ? 9 : 0);
}

void all_section(Page& page, const CheckView& view) {
  const Scene& scene = view.scene;
  page.heading("ALL FINDINGS");
  std::vector<const Summary*> all;
  for (const Summary& summary : view.summaries) all.push_back(&summary);
  const auto entries = fold(scene, view.owners, all);
  for (const auto& [head, group] : by_subject(view, entries)) {
    page.text(head, 1, 3, Tone::bold);
    for (const Entry* entry : group) {
      const Summary& summary = *entry->first;
      const Finding& finding = view.finding(summary);
      const RequirementDef& requirement = scene.requirement(finding);
      std::string line =
          scene.text(requirement.name) + ": " + (summary.waived ? "waived: " : "") + summary.text;
      const std::string margin =
          finding.cases.empty() || summary.word == Word::choice
              ? std::string()
              : margin_text(scene, requirement, finding.cases[summary.shown_case].outcome);
      if (!margin.empty()) line += ", " + margin;
      line += " (" + where(scene, requirement.span) + "; ";
      page.text(line + (requirement.source.empty() ? "no source given" : printable(requirement.source)) + ")",
                3, 6);
    }
  }
}

}  // namespace mm

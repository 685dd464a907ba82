#include "report/slots.hpp"

#include <algorithm>
#include <map>

#include "report/options.hpp"

namespace mm {

namespace {

/// A requirement that reads a slot.
struct Reading {
  const Summary* summary = nullptr;
  std::vector<std::vector<const Option*>> options;  // by candidate of the slot
  bool turns_on = false;  // it fails or is open, and hangs on the slot: see turns_on()
  /// It tells candidates of the slot apart: by more than whether it applies to them.
  bool parts_candidates() const {
    return turns_on && (summary->word == Word::choice || summary->word == Word::caution);
  }
};

/// What there is to say of one slot, gathered for all of them at once.
struct OfSlot {
  std::vector<Reading> readings;  // in order
  std::vector<const GraphFinding*> graph;
  std::vector<const SharedPart*> shared;  // of which there are too few
};

/// Two options that differ in this slot alone come to different words, or may.
bool turns_on(const Summary& summary, std::uint32_t fit) {
  if (summary.partly) return summary.word == Word::choice;
  std::map<std::vector<std::pair<std::uint32_t, std::uint32_t>>, const Option*> seen;
  for (const Option& option : summary.options) {
    auto others = option.choices;
    const auto own =
        std::find_if(others.begin(), others.end(), [&](const auto& c) { return c.first == fit; });
    if (own == others.end()) continue;
    others.erase(own);
    if (!same_standing(*seen.emplace(std::move(others), &option).first->second, option)) return true;
  }
  return false;
}

std::vector<OfSlot> by_slot(const CheckView& view) {
  std::vector<OfSlot> out(view.scene.build.fits.size());
  for (const Summary& summary : view.summaries)
    for (const Option& option : summary.options)
      for (const auto& [fit, candidate] : option.choices) {
        auto& its = out[fit].readings;
        if (its.empty() || its.back().summary != &summary)
          its.push_back({&summary, {}, summary.word > Word::fits && turns_on(summary, fit)});
        if (summary.partly) continue;
        auto& options = its.back().options;
        options.resize(view.scene.build.fits[fit].candidates.size());
        options[candidate].push_back(&option);
      }
  for (const GraphFinding& graph : view.scene.results.graph)
    if (graph.slot != no_reg) out[graph.slot].graph.push_back(&graph);
  for (const SharedPart& shared : view.conclusion.too_few)
    for (const std::uint32_t fit : shared.slots) out[fit].shared.push_back(&shared);
  return out;
}

/// What a requirement comes to for one candidate of one slot, over the candidates of the other slots it
/// reads.
struct Standing {
  const Option* best = nullptr;  // of those of one word the one that misses least
  bool varies = false;
  bool sizes_vary = false;
};

Standing standing(const Finding& finding, const Reading& reading, std::uint32_t candidate) {
  if (reading.summary->partly) return {&reading.summary->options.front(), true};
  Standing out;
  for (const Option* each : reading.options[candidate]) {
    const Option& option = *each;
    if (out.best != nullptr && !same_standing(*out.best, option)) out.varies = true;
    const bool alike = out.best != nullptr && option.word == out.best->word;
    const auto miss = [&](const Option& o) { return least_miss(finding.cases[o.now].outcome); };
    const double further = alike ? miss(option) - miss(*out.best) : 0;
    out.sizes_vary = out.sizes_vary || further != 0;
    const bool nearer = further < 0;
    if (out.best == nullptr || option.word < out.best->word || nearer) out.best = &option;
  }
  return out;
}

/// " with adapter_a1": the one other part of a joint that stands at no place.
std::string partner(const Scene& scene, const Finding& finding, std::uint32_t fit) {
  if (finding.binding->joint == no_reg || finding.binding->place) return {};
  std::vector<Symbol> others;
  for (const EntityId entity : bound_entities(finding)) {
    const Instance& instance = scene.build.instances[scene.build.entities[entity].instance];
    const bool known = std::find(others.begin(), others.end(), instance.fit_name) != others.end();
    if (instance.fit != fit && !known) others.push_back(instance.fit_name);
  }
  return others.size() == 1 ? " with " + scene.text(others[0]) : std::string();
}

/// Adds a place to the line that says the same.
void add_line(std::vector<SlotLine>& lines, SlotLine added, Symbol place, std::size_t finding) {
  auto line = std::find_if(lines.begin(), lines.end(), [&](const auto& l) { return l.what == added.what; });
  if (line == lines.end()) line = lines.insert(lines.end(), std::move(added));
  if (place) line->places.push_back(place);
  line->findings.push_back(finding);
}

/// "by 1.6 mm"; of plain numbers what was found and what is wanted, for "by 0.34" says nothing.
std::string size_of(const CheckView& view, const Finding& finding, std::size_t case_index) {
  const RequirementDef& requirement = view.scene.requirement(finding);
  const Outcome& outcome = finding.cases[case_index].outcome;
  std::string margin = margin_text(view.scene, requirement, outcome);
  if (margin.empty()) return margin;
  if (requirement.measure.dimension.is_ratio() && outcome.verdict == Verdict::conflict) {
    const std::string found = failure_text(view, finding, case_index);
    const std::size_t end = found.rfind(": misses by");
    return end > 40 ? std::string() : found.substr(0, end);
  }
  if (margin.starts_with("misses ")) margin.erase(0, 7);
  return margin;
}

/// Too few of it, of a hand of it, or nobody says how many.
void add_shortages(const CheckView& view, const OfSlot& slot, std::uint32_t part, Against& out) {
  for (const GraphFinding* found : slot.graph) {
    const GraphFinding& graph = *found;
    if (graph.part != part || graph_word(graph) != Word::choice) continue;
    const bool hand = graph.what == GraphFinding::What::hand_short;
    const std::string name = hand ? "hand" : "quantity";
    const std::string size =
        hand ? view.scene.text(graph.hand) + ": " + decimal_text(graph.needed) + " needed, " +
                   decimal_text(graph.there) + " there"
             : decimal_text(graph.needed) + " needed, " +
                   (graph.what == GraphFinding::What::quantity_short ? decimal_text(graph.there) + " there"
                                                                     : "not said how many there are");
    auto& lines = graph_word_if_chosen(graph.what) == Word::conflict ? out.no : out.unknown;
    lines.push_back({name + " (" + size + ")", name, size});
  }
}

Against against(const CheckView& view, const OfSlot& slot, std::uint32_t fit, std::uint32_t candidate) {
  const Scene& scene = view.scene;
  Against out;
  add_shortages(view, slot, scene.build.fits[fit].candidates[candidate], out);
  for (const Reading& reading : slot.readings) {
    const Summary& summary = *reading.summary;
    if (summary.word == Word::not_applicable) continue;
    const Finding& finding = view.finding(summary);
    const Standing stands = standing(finding, reading, candidate);
    if (stands.best == nullptr) continue;
    const Outcome& outcome = finding.cases[stands.best->now].outcome;
    if (stands.best->word == Word::fits && outcome.read_any)
      out.weakest = std::max(out.weakest, outcome.evidence);
    if (!reading.parts_candidates()) continue;
    const Symbol place = finding.binding->place;
    const std::string name = scene.text(scene.requirement(finding).name);
    const std::string what = name + partner(scene, finding, fit);
    const auto put = [&](std::vector<SlotLine>& lines, std::string size) {
      if (stands.sizes_vary && size.starts_with("by ") && !size.starts_with("by at least "))
        size.insert(3, "at least ");
      add_line(lines, {size.empty() ? what : what + " (" + size + ")", name, size}, place, summary.finding);
    };
    if (summary.waived) {
      if (stands.best->word > Word::caution) put(out.waived, size_of(view, finding, stands.best->now));
      continue;
    }
    if (stands.varies) {
      if (!add_partners(view.scene, summary, {fit, candidate}, name, out.partners))
        put(out.with, "turns on the other choices");
      continue;
    }
    switch (stands.best->word) {
      case Word::conflict:
        put(summary.weight == Weight::should ? out.should : out.no, size_of(view, finding, stands.best->now));
        break;
      case Word::breaks:
        put(out.breaks, stands.best->text);
        break;
      case Word::pending:
        put(out.after, stands.best->text);
        break;
      case Word::unknown:
        if (stands.best->today == Word::unknown || stands.best->today == Word::setting)
          put(out.unknown, size_of(view, finding, stands.best->now));
        else
          put(stands.best->today == Word::conflict ? out.may_settle : out.doubts, stands.best->text);
        break;
      case Word::setting:
        put(out.setting, {});
        break;
      case Word::needs_also:
      case Word::caution:
        if (stands.best->today <= Word::fits)
          put(out.breaks, stands.best->text);
        else
          put(stands.best->word == Word::caution ? out.caution : out.also, {});
        break;
      default:
        break;
    }
  }
  std::erase_if(out.partners, [](const Partners& partners) { return partners.goes_with_all(); });
  return out;
}

/// What holds or is open whichever candidate is chosen, and so tells none of them apart.
std::vector<std::string> common_of(const CheckView& view, const OfSlot& slot) {
  std::vector<std::string> out;
  const std::pair<Word, std::string_view> words[] = {
      {Word::conflict, "conflict: "},          {Word::unknown, "unknown: "},
      {Word::setting, "to be set: "},          {Word::pending, "planned work: "},
      {Word::breaks, "planned work spoils: "}, {Word::needs_also, "needs also: "}};
  for (const auto& [word, head] : words) {
    std::vector<std::string> names;
    for (const Reading& reading : slot.readings) {
      const Summary* summary = reading.summary;
      if (summary->word != word || summary->waived || reading.turns_on) continue;
      std::string name = view.scene.text(view.scene.requirement(view.finding(*summary)).name);
      if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(std::move(name));
    }
    if (!names.empty()) out.push_back(std::string(head) + listed(names));
  }
  return out;
}

/// "a also stands for v: there is 1 of it": candidates that other slots want too, of which there are too few
/// for all.
std::vector<std::string> shared_parts(const Scene& scene, const OfSlot& slot, std::uint32_t fit) {
  std::vector<std::string> out;
  for (const SharedPart* shared : slot.shared) {
    std::vector<std::string> others;
    for (const std::uint32_t other : shared->slots)
      if (other != fit) others.push_back(scene.text(scene.build.fits[other].name));
    out.push_back(scene.text(scene.build.parts[shared->part].name) + " may be chosen for " + listed(others) +
                  " too" +
                  (shared->surely ? ", and there is " + decimal_text(*shared->there) + " of it"
                                  : ": say whether there are " + decimal_text(shared->wanted) + " of it"));
  }
  return out;
}

}  // namespace

bool SlotView::hopeless() const {
  return matters &&
         std::all_of(candidates.begin(), candidates.end(), [](const Against& a) { return !a.no.empty(); });
}

std::vector<SlotView> slot_views(const CheckView& view) {
  std::vector<SlotView> out;
  const std::vector<OfSlot> known = by_slot(view);
  for (std::uint32_t f = 0; f < view.scene.build.fits.size(); ++f) {
    const Fit& fit = view.scene.build.fits[f];
    if (fit.candidates.size() < 2) continue;
    SlotView slot;
    slot.fit = f;
    const OfSlot& its = known[f];
    slot.matters = std::any_of(its.readings.begin(), its.readings.end(),
                               [](const Reading& r) { return r.parts_candidates(); });
    for (const GraphFinding* graph : its.graph)
      slot.matters = slot.matters || graph_word(*graph) == Word::choice;
    for (std::uint32_t c = 0; slot.matters && c < fit.candidates.size(); ++c)
      slot.candidates.push_back(against(view, its, f, c));
    slot.common = common_of(view, its);
    for (std::string& line : shared_parts(view.scene, its, f)) slot.common.push_back(std::move(line));
    out.push_back(std::move(slot));
  }
  mark_unfit(out);
  return out;
}

std::string verdict_of(const Against& against) {
  if (against.is_out()) return "does not fit";
  if (!against.clean()) return "may do";
  if (against.weakest == Grade::hearsay) return "nothing against it, on hearsay";
  if (against.weakest == Grade::unstated) return "nothing against it, on values with no evidence stated";
  return against.weakest == Grade::claimed ? "nothing against it, on a claim" : "nothing against it";
}

std::string price_of(const Scene& scene, std::uint32_t fit, std::uint32_t candidate) {
  const Fit& slot = scene.build.fits[fit];
  if (slot.instances.empty()) return {};
  const Instance& instance = scene.build.instances[slot.instances[0]];
  const std::size_t at = static_cast<std::size_t>(candidate) << instance.reworks.size();
  if (at >= instance.versions) return {};
  const CellId cell{instance.sheet(at).index + static_cast<std::uint32_t>(PartProperty::price)};
  const Given* given = given_of(scene, cell);
  const bool known = given != nullptr && (scene.build.cells[cell].flags & cell_missing) == 0;
  return known ? as_written(scene, cell) : std::string();
}

}  // namespace mm

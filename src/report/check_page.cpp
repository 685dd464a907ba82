#include "report/check_page.hpp"

#include <algorithm>
#include <array>
#include <atomic>
#include <type_traits>

#include "interval/mpfr_number.hpp"
#include "report/slots.hpp"

namespace mm {

namespace {

void head(Page& page, const CheckView& view) {
  const Scene& scene = view.scene;
  std::string line = build_name(scene);
  if (!scene.build.is_trial && !scene.build.title.empty()) line += ": " + printable(scene.build.title);
  if (scene.build.decl != nullptr && scene.build.decl->span.file)
    line += " (" + printable(scene.sources[scene.build.decl->span.file].path) + ")";
  page.text(line, 0, 2, Tone::bold);
  page.text(counted(scene.build.instances.size(), "part") + " fitted, " +
            counted(scene.build.joints.size(), "joint") + ", " +
            counted(view.totals.judged(), "requirement") + " judged.");
}

void totals_line(Page& page, const CheckView& view) {
  const Totals& totals = view.totals;
  const auto n = [&](Word word) { return totals.told[static_cast<std::size_t>(word)]; };
  std::vector<std::string> items;
  const auto add = [&](Word word, std::string_view one, std::string_view many) {
    if (n(word) != 0) items.push_back(counted(n(word), one, many));
  };
  std::size_t graph_conflicts = 0, graph_unknowns = 0;
  for (const GraphFinding& graph : view.scene.results.graph) {
    graph_conflicts += graph_word(graph) == Word::conflict ? 1 : 0;
    graph_unknowns += graph_word(graph) == Word::unknown ? 1 : 0;
  }
  add(Word::conflict, "conflict", "conflicts");
  if (graph_conflicts != 0) items.push_back(std::to_string(graph_conflicts) + " short in number or hand");
  if (!view.no_choices.empty())
    items.push_back(counted(view.no_choices.size(), "conflict", "conflicts") + whatever_text(view));
  for (const bool later : {false, true}) {
    const auto& all = view.scene.results.conflict_sets;
    const auto sets = std::count_if(all.begin(), all.end(),
                                    [&](const ConflictSet& set) { return set.in_state.empty() != later; });
    if (sets != 0)
      items.push_back(counted(static_cast<std::size_t>(sets), "set that cannot hold together",
                              "sets that cannot hold together") +
                      (later ? " after planned work" : ""));
  }
  add(Word::breaks, "conflict after planned work", "conflicts after planned work");
  add(Word::choice, "depends on the choice", "depend on the choice");
  const std::size_t after_work = n(Word::pending) - totals.half_way;
  if (after_work != 0)
    items.push_back(counted(after_work, "fits after planned work", "fit after planned work"));
  if (totals.half_way != 0)
    items.push_back(counted(totals.half_way, "fits", "fit") +
                    " now and after all planned work, but not after a part of it");
  add(Word::unknown, "unknown", "unknown");
  if (graph_unknowns != 0) items.push_back(std::to_string(graph_unknowns) + " open");
  const std::size_t not_judged = view.scene.results.rules_not_judged;
  if (not_judged != 0)
    items.push_back(counted(not_judged, "rule") + " not judged (the note at the end says why)");
  add(Word::setting, "depends on the setting", "depend on the setting");
  add(Word::needs_also, "needs another part", "need another part");
  add(Word::caution, "caution", "cautions");
  add(Word::fits, "fits", "fit");
  if (totals.waived != 0) items.push_back(std::to_string(totals.waived) + " waived");
  if (totals.judged() == 0 && not_judged == 0)
    items.push_back("nothing was judged: no requirement applies to what is fitted and joined");
  std::string line = sentence(listed(items, ", "));
  if (totals.weak_fits != 0)
    line += " Of the fits, " + std::to_string(totals.weak_fits) +
            (totals.weak_fits == 1 ? " rests" : " rest") +
            " on a claim, hearsay or no stated evidence (--all says which).";
  if (!view.conclusion.searched_all)
    line += " The search for choices that avoid every conflict was cut off after " +
            std::to_string(view.scene.max_choices) +
            " steps: there may be such choices, and none was found; --max-choices allows more.";
  page.text(line);
}

void all_if_asked(Page& page, const CheckView& view) {
  if (view.all) all_section(page, view);
}

using Slots = std::vector<SlotView>;

template <auto section>
void write(Page& page, const CheckView& view, const Slots& slots) {
  if constexpr (std::is_invocable_v<decltype(section), Page&, const CheckView&, const Slots&>)
    section(page, view, slots);
  else
    section(page, view);
}

/// In the order of the page.
constexpr std::array sections = {
    write<conflicts_section>,    write<conflict_sets_section>, write<choices_section>,
    write<planned_work_section>, write<unknowns_section>,      write<settings_section>,
    write<needs_also_section>,   write<cautions_section>,      write<waived_section>,
    write<loose_ends_section>,   write<close_fits_section>,    write<all_if_asked>};

/// The sections, each written on a page of its own by whoever has time, and put together in their order.
class Sections {
 public:
  Sections(const CheckView& view, const PageOptions& options)
      : view_(view), slots_(slot_views(view)), pages_(sections.size(), Page(options.colour)) {
    constexpr std::size_t few = 64;  // are written before a helper is awake
    if (options.helpers != nullptr && view.summaries.size() > few) helpers_ = options.helpers;
  }

  void write(Page& page) {
    if (helpers_ != nullptr) helpers_->start(1, [this] { return help(); });
    write_some(view_);
    if (helpers_ != nullptr) helpers_->wait();
    for (const Page& section : pages_) page.add(section);
  }

 private:
  /// A tracer is one thread's.
  struct HelpersTracer : ThreadsConstants, Tracer {
    using Tracer::Tracer;
  };

  Helpers::Remains help() {
    if (next_ >= sections.size()) return nullptr;
    const auto tracer = std::make_shared<HelpersTracer>(view_.scene.results, view_.scene.names);
    write_some({view_.scene, *tracer, view_.conclusion, view_.totals, view_.all, view_.no_choices});
    return tracer;
  }

  void write_some(const CheckView& view) {
    for (std::size_t i = next_++; i < sections.size(); i = next_++) sections[i](pages_[i], view, slots_);
  }

  const CheckView& view_;
  const Slots slots_;
  std::vector<Page> pages_;
  Helpers* helpers_ = nullptr;
  std::atomic<std::size_t> next_{0};
};

}  // namespace

std::string check_page(const Scene& scene, const Conclusion& conclusion, const PageOptions& options) {
  Tracer tracer(scene.results, scene.names);
  CheckView view{scene, tracer, conclusion, {}, options.all};
  view.totals = count_words(view.summaries, scene.results);
  view.no_choices = no_choice_texts(view);
  Page page(options.colour);
  head(page, view);
  totals_line(page, view);
  Sections(view, options).write(page);
  page.blank();
  const std::size_t fits = view.totals.words[static_cast<std::size_t>(Word::fits)];
  if (!options.all && view.totals.judged() != 0)
    page.text((fits == 0 ? std::string() : counted(fits, "requirement fits", "requirements fit") + ". ") +
              "More: --all; \"why REQUIREMENT\" gives the reasons of one.");
  for (const std::string& note : scene.results.notes) page.text("Note: " + printable(note), 0, 2);
  hazards_section(page, view);
  std::string text = page.str();
  while (text.ends_with("\n\n")) text.pop_back();
  return text;
}

}  // namespace mm

// The sections of the check page, one function each, in the order of the page, and what they and the JSON
// report share.
#pragma once
#include "report/fold.hpp"
#include "report/no_choice.hpp"
#include "report/page.hpp"
#include "report/phrases.hpp"
#include "report/unknown_groups.hpp"

namespace mm {

inline constexpr std::size_t most_parts_named = 3;  // of a joint of many parts, on the short page

struct CheckView {
  const Scene& scene;
  Tracer& tracer;
  const Conclusion& conclusion;
  Totals totals;
  bool all = false;                          // everything, at length
  std::vector<std::string> no_choices = {};  // sets of findings that leave no choice, in words
  const Summaries& summaries = conclusion.summaries;

  const Finding& finding(const Summary& summary) const { return scene.results.findings[summary.finding]; }
  /// Not waived, with this word.
  const std::vector<const Summary*>& with(Word word) const {
    return conclusion.with_word[static_cast<std::size_t>(word)];
  }
};

/// The head of an entry: the parts alone, of many only the first ones unless all is wanted.
std::string short_head(const CheckView& view, const Entry& entry);
/// "30 mm, needs at least 31.9..32.3 mm": what a requirement found and what it wants; without numbers in it
/// the rule's "because". "" where that is too long for the page.
std::string wanted_text(const CheckView& view, const Finding& finding, std::size_t case_index);
/// The same of one that fails, and by how much; never "".
std::string failure_text(const CheckView& view, const Finding& finding, std::size_t case_index);
/// "because" or "remedy" with its values put in, made safe to print; "" where the rule says none.
std::string filled(const CheckView& view, const Finding& finding, std::size_t case_index,
                   const Template& text);
/// Cut to what stands on `lines` lines of the page, indented as Page::text does; with " ..." where it was
/// cut.
std::string clipped(std::string text, std::size_t lines, std::size_t first, std::size_t rest);
/// As `failure_text`, but without the rule's "because", which is told beside it.
std::string failure_at_length(const CheckView& view, const Finding& finding, std::size_t case_index);
/// The same of each candidate with which it comes to the finding's word, where they say different things.
std::string told_by_option(const CheckView& view, const Summary& summary, const Template& text);
/// "because" and "remedy" of a case in one sentence each; "" where the rule says neither.
std::string reason_and_remedy(const CheckView& view, const Finding& finding, std::size_t case_index);
std::string reason_and_remedy(const CheckView& view, const Summary& summary);
using SubjectGroup = std::vector<const Entry*>;  // of one subject at the same places
/// In order of their first.
std::vector<SubjectGroup> by_subject(const CheckView& view, const std::vector<Entry>& entries);
/// "lower_joint + upright at front_left [steering]"
std::string subject_head(const CheckView& view, const SubjectGroup& group);
/// " [steering]" or "".
std::string hazard_mark(const CheckView& view, const Summary& summary);
/// " [should]", " [steering]", both or "".
std::string marks(const CheckView& view, const Summary& summary);

/// "no value meets lo and hi together": of requirements that wait, those that cannot all hold; "" without
/// any.
std::string not_together_text(const Scene& scene, const std::vector<const UnknownGroup*>& waiting);

/// " whatever is chosen": of the sets that leave no choice, also where there is work to do or not to do.
std::string whatever_text(const CheckView& view);
/// The sets that leave no choice, in words; those that read alike told once.
std::vector<std::string> no_choice_texts(const CheckView& view);

/// need before should; then hazards; then as judged.
void worst_first(std::vector<Entry>& entries);

/// "quantity: bolts: 8 needed, 6 there: 2 short, shop.parts:3"
std::string graph_text(const Scene& scene, const GraphFinding& graph, bool at_length);

struct CloseFit {
  const Summary* summary = nullptr;
  std::size_t case_index = 0;  // the case with the least to spare, of the candidates that may be chosen
};
struct SlotView;  // slots.hpp
/// Fits that a little wear or error would undo, closest first.
std::vector<CloseFit> close_fits(const CheckView& view, const std::vector<SlotView>& slots);
/// What to take care with, for the hazards that the judged requirements touch.
std::vector<std::string> caution_texts(const CheckView& view);

void conflicts_section_at_length(Page& page, const CheckView& view);
using GroupFamily =
    std::vector<const UnknownGroup*>;  // twins: the same attribute of several faces, known as badly
void unknowns_section_at_length(Page& page, const CheckView& view, const std::vector<GroupFamily>& families);
void conflicts_section(Page& page, const CheckView& view);
void conflict_sets_section(Page& page, const CheckView& view);
void choices_section(Page& page, const CheckView& view, const std::vector<SlotView>& slots);
void planned_work_section(Page& page, const CheckView& view);
void unknowns_section(Page& page, const CheckView& view, const std::vector<SlotView>& slots);
void settings_section(Page& page, const CheckView& view);
void needs_also_section(Page& page, const CheckView& view);
void cautions_section(Page& page, const CheckView& view);
void waived_section(Page& page, const CheckView& view);
void loose_ends_section(Page& page, const CheckView& view);
void close_fits_section(Page& page, const CheckView& view, const std::vector<SlotView>& slots);
void all_section(Page& page, const CheckView& view);
void hazards_section(Page& page, const CheckView& view);

}  // namespace mm

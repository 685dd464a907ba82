// The sections of the check page, one function each, in the order of the page. For check_page.cpp only.
#pragma once
#include "report/fold.hpp"
#include "report/page.hpp"
#include "report/phrases.hpp"

namespace mm {

struct CheckView {
  const Scene& scene;
  const CellOwners& owners;
  Tracer& tracer;
  std::vector<Summary> summaries;
  Totals totals;

  const Finding& finding(const Summary& summary) const { return scene.results.findings[summary.finding]; }
  /// Not waived, with this word.
  std::vector<const Summary*> with(Word word) const;
};

/// The requirement with numbers put in, or "" where that is too long for the page.
std::string short_numbers(const CheckView& view, const Finding& finding, std::size_t case_index);
/// "because" and "remedy" of a case in one sentence each; "" where the rule says neither.
std::string reason_and_remedy(const CheckView& view, const Finding& finding, std::size_t case_index);
/// Entries gathered under "lower_joint + upright at front_left [steering]", in order of their first.
std::vector<std::pair<std::string, std::vector<const Entry*>>> by_subject(const CheckView& view,
                                                                          const std::vector<Entry>& entries);
/// " [steering]" or "".
std::string hazard_mark(const CheckView& view, const Summary& summary);
/// " [should]", " [steering]", both or "".
std::string marks(const CheckView& view, const Summary& summary);

void conflicts_section(Page& page, const CheckView& view);
void conflict_sets_section(Page& page, const CheckView& view);
void choices_section(Page& page, const CheckView& view);
void planned_work_section(Page& page, const CheckView& view);
void unknowns_section(Page& page, const CheckView& view);
void settings_section(Page& page, const CheckView& view);
void needs_also_section(Page& page, const CheckView& view);
void cautions_section(Page& page, const CheckView& view);
void waived_section(Page& page, const CheckView& view);
void listed_section(Page& page, const CheckView& view);
void close_fits_section(Page& page, const CheckView& view);
void all_section(Page& page, const CheckView& view);
void hazards_section(Page& page, const CheckView& view);

}  // namespace mm

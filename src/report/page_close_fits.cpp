// Fits that a little wear or error would undo.
#include <algorithm>
#include <cmath>
#include <set>
#include <unordered_map>

#include "report/numbers.hpp"
#include "report/slots.hpp"

namespace mm {

namespace {

constexpr double close_share = 0.05;     // of the values compared
constexpr double close_of_window = 0.1;  // of the half-width of a window that the rule allows
constexpr std::size_t most_shown = 3;    // on the short page

double size_of(const Interval& number) {
  const double size = magnitude(number);
  return std::isfinite(size) ? size : 0;
}

/// Half-width of the window that `within` or `in` allows; 0 where it cannot be told.
double window(const CheckView& view, const Finding& finding, std::size_t case_index, const Expr& test) {
  const TraceNode tree = settled_trace(view.tracer, finding, case_index);
  const auto number = [&](ExprId expr) {
    const TraceNode* node = find_node(tree, expr);
    return node == nullptr || node->number.is_empty() ? 0.0 : node->number.hi;
  };
  if (const auto* within = std::get_if<WithinExpr>(&test.form)) return number(within->tolerance);
  if (const auto* in = std::get_if<InRangeExpr>(&test.form)) return (number(in->hi) - number(in->lo)) / 2;
  return 0;
}

/// The margin as a share of what it is measured on, over the share that counts as close; 1 or more is not
/// close.
double closeness(const CheckView& view, const Finding& finding, std::size_t case_index) {
  const RequirementDef& requirement = view.scene.requirement(finding);
  const Outcome& outcome = finding.cases[case_index].outcome;
  if (outcome.verdict != Verdict::fits || !outcome.margin || !requirement.test_expr) return 1;
  const double margin = std::max(outcome.margin->lo(), 0.0);  // a fit that just touches its limit
  const Expr& test = view.scene.tree.exprs[requirement.test_expr];
  if (std::holds_alternative<WithinExpr>(test.form) || std::holds_alternative<InRangeExpr>(test.form)) {
    const double half = window(view, finding, case_index, test);
    return half > 0 ? margin / half / close_of_window : 1;
  }
  const auto* binary = std::get_if<BinaryExpr>(&test.form);
  const bool limit = binary != nullptr && (binary->op == BinaryOp::lt || binary->op == BinaryOp::le ||
                                           binary->op == BinaryOp::gt || binary->op == BinaryOp::ge);
  if (!limit) return 1;
  double scale = 0;
  const double least = margin / close_share * (1 - 1e-9);  // on what is smaller, the margin is not close
  for (const CellId cell : outcome.reads) {
    const double size = size_of(view.scene.build.cells[cell].number);
    if (size <= std::max(scale, least)) continue;
    const auto owner = home_of(view.scene, cell);
    if (owner && owner->def->type.kind == TypeKind::quantity &&
        compatible(owner->def->type.dimension, requirement.measure.dimension))
      scale = size;
  }
  return scale > 0 ? margin / scale / close_share : 1;
}

/// The case that fits with the least to spare for its size, over candidates and planned work.
std::pair<double, std::size_t> tightest(const CheckView& view, const Summary& summary,
                                        const FallenChoices& fallen) {
  const Finding& finding = view.finding(summary);
  std::pair<double, std::size_t> out = {1, summary.shown_case};
  for (std::size_t c = 0; c < finding.cases.size(); ++c) {
    const auto& choices = finding.cases[c].choices;
    const bool possible = std::none_of(choices.begin(), choices.end(),
                                       [&](const auto& choice) { return fallen.contains(choice); });
    if (possible) out = std::min(out, {closeness(view, finding, c), c});
  }
  return out;
}

/// "with w3", "after O1": of which case the margin is, where there are several.
std::string case_words(const CheckView& view, const Finding& finding, std::size_t case_index) {
  if (finding.cases.size() < 2) return {};
  const Case& c = finding.cases[case_index];
  std::vector<std::string> names;
  for (const auto& [fit, candidate] : c.choices)
    names.push_back("with " + candidate_name(view.scene, fit, candidate));
  for (const std::uint32_t rework : c.reworks)
    names.push_back("after " + view.scene.text(view.scene.build.reworks[rework].name));
  return names.empty() ? std::string() : " " + listed(names);
}

}  // namespace

std::vector<CloseFit> close_fits(const CheckView& view, const std::vector<SlotView>& slots) {
  std::vector<std::pair<double, CloseFit>> close;
  const FallenChoices out_of_the_race = fallen(slots);
  for (const Summary* summary : view.with(Word::fits)) {
    const auto [share, at] = tightest(view, *summary, out_of_the_race);
    if (share < 1) close.push_back({share, {summary, at}});
  }
  std::stable_sort(close.begin(), close.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<CloseFit> order;
  for (const auto& [share, fit] : close) order.push_back(fit);
  return order;
}

void close_fits_section(Page& page, const CheckView& view, const std::vector<SlotView>& slots) {
  const Scene& scene = view.scene;
  const auto close = close_fits(view, slots);
  std::vector<const Summary*> order;
  std::unordered_map<const Summary*, std::size_t> case_of;
  for (const CloseFit& fit : close) {
    order.push_back(fit.summary);
    case_of.emplace(fit.summary, fit.case_index);
  }
  const auto entries = fold(scene, order);
  if (entries.empty()) return;
  page.heading("FITS WITH LITTLE TO SPARE");
  const std::size_t shown = view.all ? entries.size() : std::min(entries.size(), most_shown);
  for (std::size_t i = 0; i < shown; ++i) {
    const Entry& entry = entries[i];
    const Finding& finding = view.finding(*entry.first);
    const std::size_t at = case_of.at(entry.first);
    const Outcome& outcome = finding.cases[at].outcome;
    const std::string line = scene.text(scene.requirement(finding).name) + ": " +
                             margin_text(scene, scene.requirement(finding), outcome) +
                             case_words(view, finding, at) + evidence_tail(outcome);
    const std::string subject = subject_text(scene, finding, false, view.all ? SIZE_MAX : most_parts_named);
    page.text(clipped(line + (subject.empty() ? "" : ": " + subject) + places_text(scene, entry.places),
                      view.all ? 9 : 2, 1, 4),
              1, 4);
  }
  if (entries.size() > shown) page.text("and " + std::to_string(entries.size() - shown) + " more", 1, 4);
}

}  // namespace mm

// Fits that a little wear or error would undo.
#include <algorithm>
#include <cmath>

#include "report/check_sections.hpp"
#include "report/numbers.hpp"

namespace mm {

namespace {

constexpr double close_share = 0.05;     // of the values compared
constexpr double close_of_window = 0.1;  // of the half-width of a window that the rule allows
constexpr std::size_t most_shown = 3;    // on the short page

double size_of(const Interval& number) {
  const double size = std::max(std::abs(number.lo()), std::abs(number.hi));
  return std::isfinite(size) ? size : 0;
}

/// Half-width of the window that `within` or `in` allows; 0 where it cannot be told.
double window(const CheckView& view, const Finding& finding, std::size_t case_index, const Expr& test) {
  const TraceNode tree = view.tracer.trace(finding, case_index);
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
  const double margin = outcome.margin->lo();
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
  for (const CellId cell : outcome.reads) {
    const CellOwner* owner = view.owners.of(cell);
    if (owner != nullptr && owner->def->type.kind == TypeKind::quantity &&
        compatible(owner->def->type.dimension, outcome.margin_dimension))
      scale = std::max(scale, size_of(view.scene.build.cells[cell].number));
  }
  return scale > 0 ? margin / scale / close_share : 1;
}

}  // namespace

void close_fits_section(Page& page, const CheckView& view) {
  const Scene& scene = view.scene;
  std::vector<std::pair<double, const Summary*>> close;
  for (const Summary* summary : view.with(Word::fits)) {
    if (view.finding(*summary).cases.empty()) continue;
    const double share = closeness(view, view.finding(*summary), summary->shown_case);
    if (share < 1) close.emplace_back(share, summary);
  }
  if (close.empty()) return;
  std::stable_sort(close.begin(), close.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<const Summary*> order;
  for (const auto& [share, summary] : close) order.push_back(summary);
  const auto entries = fold(scene, view.owners, order);
  page.heading("FITS WITH LITTLE TO SPARE");
  const std::size_t shown = view.all ? entries.size() : std::min(entries.size(), most_shown);
  for (std::size_t i = 0; i < shown; ++i) {
    const Entry& entry = entries[i];
    const Finding& finding = view.finding(*entry.first);
    const Outcome& outcome = finding.cases[entry.first->shown_case].outcome;
    const std::string line = scene.text(scene.requirement(finding).name) + ": " +
                             margin_text(scene, scene.requirement(finding), outcome) + evidence_tail(outcome);
    const std::string subject = subject_text(scene, finding, false, view.all ? SIZE_MAX : 3);
    page.text(clipped(line + (subject.empty() ? "" : ": " + subject) + places_text(scene, entry.places),
                      view.all ? 9 : 1, 1, 4),
              1, 4);
  }
  if (entries.size() > shown) page.text("and " + std::to_string(entries.size() - shown) + " more", 1, 4);
}

}  // namespace mm

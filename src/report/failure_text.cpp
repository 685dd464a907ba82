// What a failing requirement found and what it wants, in words: "30 mm, needs at least 32 mm".
#include <algorithm>

#include "base/display_width.hpp"
#include "report/check_sections.hpp"
#include "report/options.hpp"

namespace mm {

namespace {

constexpr std::size_t most_filled = 64;    // of many choices: each is worked out again for its numbers
constexpr std::size_t longest_rule = 160;  // columns; a longer one is for `why`

/// "(31.9..32.3 mm)" without its brackets, where they hold all of it.
std::string bare(std::string text) {
  if (!text.starts_with('(') || !text.ends_with(')')) return text;
  const std::string inner = text.substr(1, text.size() - 2);
  return inner.find_first_of("()") == std::string::npos ? inner : text;
}

/// Turns a comparison, `within` or `in a..b` round into what was found and what is wanted; "" for other
/// forms.
struct Wording {
  const CheckView& view;
  const TraceNode& node;
  const std::optional<Unit>& unit;

  int digits = usual_digits;
  bool open = false;          // it may hold yet
  bool results_only = false;  // "0.76", not "528 rev/km * 1.442 m/rev = 0.76"

  /// A value; what is worked out also with its result. A limit is rounded to the side that keeps it.
  std::string put(ExprId expr, Rounding rounding = Rounding::nearest) const {
    std::string out = bare(expression_with_numbers(view.scene, expr, node, unit, digits));
    const auto& form = view.scene.tree.exprs[expr].form;
    const TraceNode* step = find_node(node, expr);
    const bool worked_out = std::holds_alternative<BinaryExpr>(form) ||
                            std::holds_alternative<UnaryExpr>(form) || std::holds_alternative<CallExpr>(form);
    if (!worked_out || step == nullptr) return out;
    const std::string nearest = node_text(view.scene, *step, unit, digits);
    if (nearest.empty()) return out;
    const std::string result =
        rounding == Rounding::nearest ? nearest : node_text(view.scene, *step, unit, digits, rounding);
    if (nearest == out) return result;
    return results_only ? result : out + " = " + result;
  }

  std::string of(ExprId expr) const {
    const auto& form = view.scene.tree.exprs[expr].form;
    if (const auto* within = std::get_if<WithinExpr>(&form))
      return put(within->left) + ", must be within " + put(within->tolerance) + " of " + put(within->right);
    if (const auto* in = std::get_if<InRangeExpr>(&form))
      return put(in->value) + ", must be " + put(in->lo, Rounding::up) + " to " + put(in->hi, Rounding::down);
    const auto* binary = std::get_if<BinaryExpr>(&form);
    if (binary == nullptr) return {};
    switch (binary->op) {
      case BinaryOp::eq:
        return put(binary->left) + (open ? ", must be " : " is not ") + put(binary->right);
      case BinaryOp::ne:
        return put(binary->left) + " must not be " + put(binary->right);
      case BinaryOp::ge:
        return put(binary->left) + ", needs at least " + put(binary->right, Rounding::up);
      case BinaryOp::le:
        return put(binary->left) + ", needs at most " + put(binary->right, Rounding::down);
      case BinaryOp::gt:
        return put(binary->left) + ", needs more than " + put(binary->right, Rounding::up);
      case BinaryOp::lt:
        return put(binary->left) + ", needs less than " + put(binary->right, Rounding::down);
      default:
        return {};
    }
  }
};

/// The comparison that it turns on, turned round so; "" where it is none, or would be too long.
std::string worded(const CheckView& view, const Finding& finding, std::size_t case_index,
                   const TraceNode& tree) {
  const RequirementDef& requirement = view.scene.requirement(finding);
  const Focus focus = focus_of(view.scene, requirement.test_expr, tree);
  if (!focus.expr) return {};
  const bool open = finding.cases[case_index].outcome.verdict != Verdict::conflict;
  const TraceNode* test = find_node(*focus.node, focus.expr);
  const int digits =
      test == nullptr ? usual_digits : digits_apart(view.scene, *test, requirement.margin_unit);
  Wording wording{view, *focus.node, requirement.margin_unit, digits, open};
  std::string out = wording.of(focus.expr);
  if (display_width(out) > longest_rule) {
    wording.results_only = true;
    out = wording.of(focus.expr);
  }
  if (!out.empty()) out = focus.item + out;
  return display_width(out) > longest_rule ? std::string() : out;
}

std::string with_margin(const CheckView& view, const Finding& finding, std::size_t case_index,
                        const std::string& text) {
  const std::string margin =
      margin_text(view.scene, view.scene.requirement(finding), finding.cases[case_index].outcome);
  if (text.empty()) return margin.empty() ? "fails" : margin;
  return margin.empty() ? text : text + ": " + margin;
}

}  // namespace

std::string wanted_text(const CheckView& view, const Finding& finding, std::size_t case_index) {
  const RequirementDef& requirement = view.scene.requirement(finding);
  if (!requirement.test_expr) return {};
  const TraceNode tree = settled_trace(view.tracer, finding, case_index);
  std::string out = worded(view, finding, case_index, tree);
  if (!out.empty()) return out;
  const bool open = finding.cases[case_index].outcome.verdict != Verdict::conflict;
  const std::string over_none = goes_over_none(tree) ? ": there is none" : "";
  out = open ? std::string() : filled(view, finding, case_index, requirement.because);
  if (out.empty())
    out = expression_with_numbers(view.scene, requirement.test_expr, tree, requirement.margin_unit);
  if (out.empty() && !over_none.empty()) out = expression_text(view.scene, requirement.test_expr) + over_none;
  return display_width(out) > longest_rule ? std::string() : out;
}

std::string failure_text(const CheckView& view, const Finding& finding, std::size_t case_index) {
  return with_margin(view, finding, case_index, wanted_text(view, finding, case_index));
}

std::string failure_at_length(const CheckView& view, const Finding& finding, std::size_t case_index) {
  const RequirementDef& requirement = view.scene.requirement(finding);
  std::string out;
  if (requirement.test_expr) {
    const TraceNode tree = settled_trace(view.tracer, finding, case_index);
    out = worded(view, finding, case_index, tree);
    if (out.empty())
      out = expression_with_numbers(view.scene, requirement.test_expr, tree, requirement.margin_unit);
  }
  if (out.empty() || display_width(out) > longest_rule) return failure_text(view, finding, case_index);
  return with_margin(view, finding, case_index, out);
}

std::string filled(const CheckView& view, const Finding& finding, std::size_t case_index,
                   const Template& text) {
  if (text.empty()) return {};
  const Tracer::Filled filled = view.tracer.fill(finding, case_index, text);
  std::vector<std::string> missing;
  for (const CellId cell : filled.missing) {
    const auto home = home_of(view.scene, cell);
    std::string name = home ? attribute_name(view.scene, *home) : std::string();
    if (name.empty() || std::find(missing.begin(), missing.end(), name) != missing.end()) continue;
    missing.push_back(std::move(name));  // once for all places
  }
  const std::string out = printable(filled.text);
  return missing.empty() ? out : out + " (not known yet: " + listed(missing) + ")";
}

std::string told_by_option(const CheckView& view, const Summary& summary, const Template& text) {
  const Finding& finding = view.finding(summary);
  std::size_t filled_so_far = 0;
  const auto told = [&](const Option& option, std::size_t case_index) {
    const bool speaks = option.choices.empty() || summary.word == Word::choice || option.word == summary.word;
    if (!speaks || text.empty()) return std::string();
    if (filled_so_far++ < most_filled) return filled(view, finding, case_index, text);
    return std::string();
  };
  const std::string out = by_option(view.scene, summary, told);
  if (filled_so_far <= most_filled) return out;
  return out + " (" + counted(filled_so_far - most_filled, "more choice") + " not told)";
}

namespace {

std::string reason_and_remedy(const std::string& because, const std::string& remedy) {
  std::string out = sentence(because);
  if (!remedy.empty()) out += (out.empty() ? "" : " ") + sentence("Remedy: " + remedy);
  return out;
}

}  // namespace

std::string reason_and_remedy(const CheckView& view, const Finding& finding, std::size_t case_index) {
  const RequirementDef& requirement = view.scene.requirement(finding);
  return reason_and_remedy(filled(view, finding, case_index, requirement.because),
                           filled(view, finding, case_index, requirement.remedy));
}

std::string reason_and_remedy(const CheckView& view, const Summary& summary) {
  const RequirementDef& requirement = view.scene.requirement(view.finding(summary));
  return reason_and_remedy(told_by_option(view, summary, requirement.because),
                           told_by_option(view, summary, requirement.remedy));
}

std::string short_head(const CheckView& view, const Entry& entry) {
  return entry_head(view.scene, entry, false, view.all ? SIZE_MAX : most_parts_named);
}

std::string clipped(std::string text, std::size_t lines, std::size_t first, std::size_t rest) {
  const auto fits = [&](const std::string& candidate) {
    const std::string shown = wrap(candidate, first, rest);
    return static_cast<std::size_t>(std::count(shown.begin(), shown.end(), '\n')) <= lines;
  };
  if (fits(text)) return text;
  text.resize(std::min(text.size(), lines * 4 * 80));
  do {
    const std::size_t blank = text.rfind(' ');
    text.resize(blank == std::string::npos ? 0 : blank);
  } while (!text.empty() && !fits(text + " ..."));
  return text + " ...";
}

}  // namespace mm

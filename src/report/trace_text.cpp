#include "report/trace_text.hpp"

#include <algorithm>
#include <set>

namespace mm {

namespace {

constexpr std::size_t deepest = 12, most_lines = 60;

struct Teller {
  Page& page;
  const Scene& scene;
  const std::optional<Unit>& unit;
  const TraceNode& root;
  std::size_t lines = 0;

  static bool is_plain(const TraceNode& node) {
    switch (node.code) {
      case OpCode::number:
      case OpCode::truth:
      case OpCode::symbolic:
      case OpCode::local:
      case OpCode::local_number:
      case OpCode::mate:
      case OpCode::part_of:
      case OpCode::face_of:
      case OpCode::attribute:
      case OpCode::field:
        return true;
      case OpCode::neg:  // "-1 mm"
        return node.children.size() == 1 && node.children[0].code == OpCode::number;
      default:
        return false;
    }
  }

  std::string result(const TraceNode& node, int digits) const {
    if (node.kind == TypeKind::boolean) {
      if (node.truth == Truth::maybe) return ": not certain";
      return std::string(node.truth == Truth::yes ? ": yes" : ": no") +
             (&node == &test_of(root) && goes_over_none(root) ? ", for there is none" : "");
    }
    const std::string text = node_text(scene, node, unit, digits);
    return text.empty() ? std::string() : " = " + text;
  }

  std::string row_text(const TraceNode& node) const {
    if (node.table == no_reg || node.table >= scene.model().tables.size()) return {};
    const TableDef& table = scene.model().tables[TableId{node.table}];
    std::string out = "; table " + scene.text(table.name);
    if (node.row < table.row_spans.size()) out += ", row at " + where(scene, table.row_spans[node.row]);
    if (!table.sources.empty()) out += ", source: " + printable(table.sources[0]);
    return out;
  }

  /// A partial sum, product or conjunction of the same chain says nothing that its whole does not.
  static bool is_same_chain(const TraceNode& node, const TraceNode* above) {
    if (above == nullptr || node.used_as || !node.label.empty()) return false;
    const auto family = [](OpCode code) {
      if (code == OpCode::add || code == OpCode::sub) return 1;
      if (code == OpCode::mul || code == OpCode::div) return 2;
      if (code == OpCode::logical_and) return 3;
      return code == OpCode::logical_or ? 4 : 0;
    };
    return family(node.code) != 0 && family(node.code) == family(above->code);
  }

  void tell(const TraceNode& node, std::size_t depth, const TraceNode* above, std::set<std::string>& told,
            int digits = usual_digits) {
    if (lines >= most_lines) return;
    const std::string text = expression_text(scene, node.expr);
    const std::string text_above = above == nullptr ? std::string() : expression_text(scene, above->expr);
    const bool shown = !node.label.empty() || (!is_plain(node) && !text.empty() && text != text_above &&
                                               !is_same_chain(node, above));
    if (shown) {
      std::string line = node.label.empty() ? text : printable(node.label);
      if (node.used_as) line = expression_text(scene, node.used_as) + " = " + line;
      line += result(node, digits) + row_text(node);
      if (node.undefined) line += " (not defined on all of the range)";
      if (node.label.empty() && !told.insert(line).second) return;  // both ends of a range read it
      if (++lines == most_lines) {
        page.text("... (more steps than are shown)", 2 * depth + 2, 2 * depth + 4);
        return;
      }
      page.text(line, 2 * std::min(depth, deepest) + 2, 2 * std::min(depth, deepest) + 6);
    }
    const bool chained = is_same_chain(node, above);
    std::set<std::string> below;
    const int digits_below = digits_of_sides(scene, node, unit);
    for (const TraceNode& child : node.children)
      tell(child, shown ? depth + 1 : depth, shown || chained ? &node : above, shown ? below : told,
           digits_below);
  }
};

}  // namespace

void tell_trace(Page& page, const Scene& scene, const TraceNode& tree, const RequirementDef& requirement) {
  page.blank();
  page.text("Step by step:");
  std::set<std::string> told;
  Teller{page, scene, requirement.margin_unit, tree}.tell(tree, 0, nullptr, told);
}

}  // namespace mm

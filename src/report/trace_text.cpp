#include "report/trace_text.hpp"

#include <algorithm>

namespace mm {

namespace {

constexpr std::size_t deepest = 12, most_lines = 60;

struct Teller {
  Page& page;
  const Scene& scene;
  const CellOwners& owners;
  const std::optional<Unit>& unit;
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
      default:
        return false;
    }
  }

  std::string result(const TraceNode& node) const {
    if (node.kind == TypeKind::boolean) {
      if (node.truth == Truth::maybe) return ": not certain";
      return node.truth == Truth::yes ? ": yes" : ": no";
    }
    const std::string text = node_text(scene, owners, node, unit);
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

  void tell(const TraceNode& node, std::size_t depth, const std::string& above) {
    if (lines >= most_lines) return;
    const std::string text = expression_text(scene, node.expr);
    const bool shown = !node.label.empty() || (!is_plain(node) && !text.empty() && text != above);
    if (shown) {
      if (++lines == most_lines) {
        page.text("... (more steps than are shown)", 2 * depth + 2, 2 * depth + 4);
        return;
      }
      std::string line = node.label.empty() ? text : printable(node.label);
      if (node.used_as) line = expression_text(scene, node.used_as) + " = " + line;
      line += result(node) + row_text(node);
      if (node.undefined) line += " (not defined on all of the range)";
      page.text(line, 2 * std::min(depth, deepest) + 2, 2 * std::min(depth, deepest) + 6);
    }
    for (const TraceNode& child : node.children) tell(child, shown ? depth + 1 : depth, shown ? text : above);
  }
};

}  // namespace

void tell_trace(Page& page, const Scene& scene, const CellOwners& owners, const TraceNode& tree,
                const RequirementDef& requirement) {
  page.blank();
  page.text("Step by step:");
  Teller{page, scene, owners, requirement.margin_unit}.tell(tree, 0, "");
}

}  // namespace mm

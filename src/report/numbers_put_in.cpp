// A requirement with its numbers: the rule file's own text, with each name replaced by the value it stood
// for.
#include <algorithm>
#include <map>

#include "base/date_text.hpp"
#include "report/numbers.hpp"
#include "report/page.hpp"
#include "report/phrases.hpp"
#include "resolve/declarations.hpp"

namespace mm {

namespace {

struct Replacement {
  Span span;
  std::string text;
};

bool needs_brackets(std::string_view text) {
  return text.find("+-") != std::string_view::npos || text.find("..") != std::string_view::npos ||
         text.find(" = ") != std::string_view::npos || text.find(" or ") != std::string_view::npos ||
         text.find("adjustable") != std::string_view::npos || text.find("±") != std::string_view::npos;
}

std::string in_brackets(const std::string& text) { return needs_brackets(text) ? "(" + text + ")" : text; }

class Putter {
 public:
  Putter(const Scene& scene, const TraceNode& tree, const std::optional<Unit>& unit, int digits)
      : scene_(scene), unit_(unit), digits_(digits) {
    index(tree, true);
  }

  std::string run(ExprId expr) {
    visit(expr);
    const Span whole = scene_.tree.exprs[expr].span;
    std::sort(out_.begin(), out_.end(),
              [](const auto& a, const auto& b) { return a.span.begin < b.span.begin; });
    std::string text;
    Span rest = whole;
    for (const Replacement& replacement : out_) {
      if (replacement.span.begin < rest.begin) continue;
      text += piece(rest.begin, replacement.span.begin) + replacement.text;
      rest.begin = replacement.span.end;
    }
    return printable(squeezed(text + piece(rest.begin, rest.end)));
  }

 private:
  /// What is written twice is worked out once, at its first place; the others find it by their text, which
  /// means the same everywhere but inside a quantifier.
  void index(const TraceNode& node, bool outside) {
    for (const ExprId expr : {node.used_as, node.expr}) {
      if (!expr) continue;
      nodes_.emplace(expr, &node);
      if (outside) by_text_.emplace(expression_text(scene_, expr), &node);
    }
    for (const TraceNode& child : node.children) {
      const bool item = !child.label.empty() && child.label != "when" && child.label != "where";
      index(child, outside && !item);
    }
  }

  const TraceNode* node_of(ExprId expr) const {
    if (const auto found = nodes_.find(expr); found != nodes_.end()) return found->second;
    const auto found = by_text_.find(expression_text(scene_, expr));
    return found == by_text_.end() ? nullptr : found->second;
  }

  std::string piece(std::uint32_t begin, std::uint32_t end) {
    Span span = scene_.tree.exprs[root_].span;
    span.begin = begin;
    span.end = end;
    return std::string(scene_.sources.text(span));
  }

  void put(ExprId expr) {
    const TraceNode* node = node_of(expr);
    if (node == nullptr || node->code == OpCode::local) return;
    const std::string text = node_text(scene_, *node, unit_, digits_);
    if (!text.empty()) out_.push_back({scene_.tree.exprs[expr].span, in_brackets(text)});
  }

  void visit(ExprId expr) {
    if (!expr) return;
    if (!root_) root_ = expr;
    const auto& form = scene_.tree.exprs[expr].form;
    if (const auto* e = std::get_if<UnaryExpr>(&form)) return visit(e->operand);
    if (const auto* e = std::get_if<BinaryExpr>(&form)) return visit(e->left), visit(e->right);
    if (const auto* e = std::get_if<WithinExpr>(&form))
      return visit(e->left), visit(e->tolerance), visit(e->right);
    if (const auto* e = std::get_if<InRangeExpr>(&form)) return visit(e->value), visit(e->lo), visit(e->hi);
    if (const auto* e = std::get_if<IfExpr>(&form))
      return visit(e->condition), visit(e->then_branch), visit(e->else_branch);
    if (const auto* e = std::get_if<InTableExpr>(&form)) {
      for (const ExprId value : e->values) visit(value);
      return;
    }
    if (const auto* e = std::get_if<CallExpr>(&form)) {
      if (!is_built_in(scene_.names.text(e->function.symbol))) return put(expr);
      for (const ExprId argument : e->arguments) visit(argument);
      return;
    }
    if (std::holds_alternative<NameExpr>(form) || std::holds_alternative<FieldExpr>(form) ||
        std::holds_alternative<LookupExpr>(form) || std::holds_alternative<AggregateExpr>(form))
      put(expr);
    // literals stay as written; quantifiers too: their items are told one by one
  }

  const Scene& scene_;
  const std::optional<Unit>& unit_;
  int digits_;
  ExprId root_;
  std::map<ExprId, const TraceNode*> nodes_;
  std::map<std::string, const TraceNode*> by_text_;
  std::vector<Replacement> out_;
};

}  // namespace

const TraceNode* find_node(const TraceNode& node, ExprId expr) {
  if (node.expr == expr || node.used_as == expr) return &node;
  for (const TraceNode& child : node.children)
    if (const TraceNode* found = find_node(child, expr)) return found;
  return nullptr;
}

std::string expression_text(const Scene& scene, ExprId expr) {
  if (!expr) return {};
  return printable(squeezed(scene.sources.text(scene.tree.exprs[expr].span)));
}

std::string expression_with_numbers(const Scene& scene, ExprId expr, const TraceNode& tree,
                                    const std::optional<Unit>& unit, int digits) {
  if (!expr) return {};
  const TraceNode* test = find_node(tree, expr);
  if (test != nullptr) digits = std::max(digits, digits_apart(scene, *test, unit));
  if (!std::holds_alternative<QuantifierExpr>(scene.tree.exprs[expr].form))
    return Putter(scene, tree, unit, digits).run(expr);
  const Focus focus = focus_of(scene, expr, tree);
  if (!focus.expr) return {};
  if (const TraceNode* deciding = find_node(*focus.node, focus.expr))
    digits = std::max(digits, digits_apart(scene, *deciding, unit));
  const std::string numbers = Putter(scene, *focus.node, unit, digits).run(focus.expr);
  return numbers == expression_text(scene, focus.expr) ? std::string() : focus.item + numbers;
}

Focus focus_of(const Scene& scene, ExprId expr, const TraceNode& tree) {
  const auto& form = scene.tree.exprs[expr].form;
  const TraceNode* node = find_node(tree, expr);
  if (const auto* binary = std::get_if<BinaryExpr>(&form);
      binary != nullptr && binary->op == BinaryOp::logical_and) {
    for (const ExprId side : {binary->left, binary->right}) {
      const TraceNode* its = find_node(tree, side);
      if (its != nullptr && its->truth == Truth::no) return focus_of(scene, side, tree);
    }
  }
  const auto* quantifier = std::get_if<QuantifierExpr>(&form);
  if (quantifier == nullptr) return {expr, &tree, {}};
  // told for the first item that decides it: a failing one, else an open one
  for (const Truth wanted : {Truth::no, Truth::maybe})
    for (std::size_t i = 0; node != nullptr && i < node->children.size(); ++i) {
      const TraceNode& item = node->children[i];
      if (item.truth == wanted && !item.label.empty() && item.kind == TypeKind::boolean)
        return {quantifier->body, &item,
                (item.label.starts_with("at ") ? "" : "for ") + printable(item.label) + ": "};
    }
  return {};
}

int digits_of_sides(const Scene& scene, const TraceNode& comparison, const std::optional<Unit>& unit) {
  constexpr int most_digits = 16;
  int digits = usual_digits;
  const OpCode code = comparison.code;
  const bool compares = is_comparison(code);
  if (!compares || comparison.truth != Truth::no || comparison.children.size() != 2) return digits;
  const auto told = [&](const TraceNode& side) {
    const std::string text = node_text(scene, side, unit, digits);
    const std::size_t converted = text.rfind(" = ");
    return converted == std::string::npos ? text : text.substr(converted + 3);
  };
  while (digits <= most_digits && told(comparison.children[0]) == told(comparison.children[1])) ++digits;
  return digits <= most_digits ? digits : usual_digits;
}

int digits_apart(const Scene& scene, const TraceNode& test, const std::optional<Unit>& unit) {
  const bool joins =
      test.code == OpCode::logical_and || test.code == OpCode::logical_or || test.code == OpCode::logical_not;
  if (!joins) return digits_of_sides(scene, test, unit);
  int digits = usual_digits;
  for (const TraceNode& side : test.children) digits = std::max(digits, digits_apart(scene, side, unit));
  return digits;
}

std::string node_text(const Scene& scene, const TraceNode& node, const std::optional<Unit>& unit, int digits,
                      Rounding rounding) {
  const auto owner = home_of(scene, node.cell);
  if (node.code == OpCode::attribute && owner) {
    const Given* given = given_of(scene, node.cell);
    const bool missing = (scene.build.cells[node.cell].flags & cell_missing) != 0;
    if (given == nullptr || missing) return scene.text(owner->def->name) + "?";
    const std::string written = as_written(scene, node.cell);
    if (owner->def->type.kind == TypeKind::choice && node.symbols.members.size() > 1)
      return set_text(scene, node.symbols, node.kind);
    if (owner->def->type.kind != TypeKind::quantity) return written;
    const std::string value = converted_text(scene, *owner, node.cell, unit, digits);
    return value.empty() ? written : written + " = " + value;
  }
  if (node.undefined && node.number.is_empty()) return {};
  switch (node.kind) {
    case TypeKind::quantity: {
      const auto wanted = unit_for(unit, node.dimension, node.is_difference);
      return number_text(node.number,
                         wanted ? *wanted : usual_unit(node.dimension, scene.model().units, scene.names),
                         node.is_difference, digits, rounding);
    }
    case TypeKind::count:
      return number_text(node.number, Unit{});
    case TypeKind::date:
      if (node.number.is_point()) return date_text(static_cast<long>(node.number.lo()));
      return {};
    case TypeKind::boolean:
      return node.truth == Truth::yes ? "yes" : node.truth == Truth::no ? "no" : "yes or no";
    case TypeKind::choice:
    case TypeKind::text:
    case TypeKind::designation:
    case TypeKind::place:
      return set_text(scene, node.symbols, node.kind);
    default:
      return {};
  }
}

}  // namespace mm

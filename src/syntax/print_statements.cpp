// Statements and declarations as nodes to lay out.
#include <algorithm>

#include "syntax/print.hpp"
#include "syntax/print_nodes.hpp"
#include "syntax/unit_rule.hpp"

namespace mm {

namespace {

void in_source_order(std::vector<PrintNode>& items) {
  std::stable_sort(items.begin(), items.end(),
                   [](const PrintNode& a, const PrintNode& b) { return a.span.begin < b.span.begin; });
}

struct Clause {
  std::uint32_t at;
  std::string text;
};

std::string in_order(std::vector<Clause> clauses) {
  std::stable_sort(clauses.begin(), clauses.end(),
                   [](const Clause& a, const Clause& b) { return a.at < b.at; });
  std::string result;
  for (const Clause& clause : clauses) result += soft_break + clause.text;
  return result;
}

/// Cells one under the other; numbers stand to the right of their column. A very wide one makes no others
/// wide.
std::vector<std::string> align(std::vector<std::vector<std::string>> rows) {
  std::vector<std::string> lines(rows.size());
  if (rows.empty()) return lines;
  constexpr std::size_t widest = 60;
  for (std::size_t c = 0; c < rows[0].size(); ++c) {
    std::size_t width = 0;
    bool numbers = true;
    for (auto& row : rows) {
      if (c + 1 < row.size() && needs_semicolon(row[c], row[c + 1], true)) row[c] += ";";
      if (row[c].size() <= widest) width = std::max(width, row[c].size());
      numbers = numbers && std::string_view("0123456789.-").find(row[c][0]) != std::string_view::npos;
    }
    for (std::size_t r = 0; r < rows.size(); ++r) {
      const std::string pad(std::max(width, rows[r][c].size()) - rows[r][c].size(), ' ');
      lines[r] += (c == 0 ? "" : "  ") + (numbers                  ? pad + rows[r][c]
                                          : c + 1 < rows[r].size() ? rows[r][c] + pad
                                                                   : rows[r][c]);
    }
  }
  return lines;
}

}  // namespace

PrintNode Wording::declaration(const Declaration& declaration) const {
  return visit_declaration([&](const auto& d) { return node(d); }, declaration);
}

PrintNode Wording::block(Span span, std::string head, std::uint32_t head_end,
                         std::vector<PrintNode> items) const {
  in_source_order(items);
  return {span, std::move(head), head_end, true, std::move(items), {}};
}

PrintNode Wording::node(const UseDecl& d) const { return simple(d.span, "use " + text(d.path)); }
PrintNode Wording::node(const UnitDecl& d) const {
  return simple(d.span, "unit " + name(d.name) + " = " + quantity(d.definition));
}
PrintNode Wording::node(const CurrencyDecl& d) const { return simple(d.span, "currency " + name(d.name)); }
PrintNode Wording::node(const ChoiceDecl& d) const {
  return simple(d.span, "choice " + name(d.name) + " = " + list(d.choices));
}

PrintNode Wording::node(const TableDecl& d) const {
  std::vector<PrintNode> items;
  for (std::size_t i = 0; i < d.columns.size(); ++i) {
    const AttributeDecl& column = d.columns[i];
    const std::string written = name(column.name) + ": " + type(column.type);
    const bool goes_on =
        i > 0 && items.back().head.size() + written.size() + 4 <= tidy_width &&
        raw({d.span.file, d.columns[i - 1].span.end, column.span.begin}).find('\n') == std::string::npos;
    if (goes_on) {
      items.back().head += "  " + written;
      items.back().span.end = column.span.end;
    } else {
      items.push_back(simple(column.span, written));
    }
  }
  std::vector<std::vector<std::string>> rows;
  for (const auto& row : d.rows) {
    rows.emplace_back();
    for (const ValueId cell : row) rows.back().push_back(value(cell));
  }
  const std::vector<std::string> lines = align(std::move(rows));
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const Span first = tree_.values[d.rows[i].front()].span;
    items.push_back(simple({first.file, first.begin, tree_.values[d.rows[i].back()].span.end}, lines[i]));
  }
  for (const TextLiteral& source : d.sources) items.push_back(simple(source.span, "source " + text(source)));
  const std::uint32_t head_end = d.doc ? d.doc->span.end : d.name.span.end;
  return block(d.span, "table " + name(d.name) + text(d.doc), head_end, std::move(items));
}

PrintNode Wording::node(const FormulaDecl& d) const {
  std::string parameters;
  for (const auto& p : d.parameters)
    parameters += (parameters.empty() ? "" : ", ") + name(p.name) + ": " + type(p.type);
  std::string head = "formula " + name(d.name) + "(" + parameters + "): " + type(d.result) + " =" +
                     soft_break + expression(d.body);
  if (!d.source) return simple(d.span, std::move(head));
  return block(d.span, std::move(head), tree_.exprs[d.body].span.end,
               {simple(d.source->span, "source " + text(*d.source))});
}

PrintNode Wording::node(const FormDecl& d) const {
  std::string head = d.name ? "form " + name(*d.name) + " " : "";
  for (std::size_t i = 0; i < d.pattern_texts.size(); ++i)
    head += (i == 0 ? std::string() : std::string(",") + soft_break) + text(d.pattern_texts[i]);
  if (d.computed.empty()) return simple(d.span, std::move(head));
  std::vector<PrintNode> items;
  for (const LetDecl& field : d.computed)
    items.push_back(simple(field.span, name(field.name) + " = " + expression(field.value)));
  return block(d.span, std::move(head), d.pattern_texts.back().span.end, std::move(items));
}

PrintNode Wording::node(const DesignationDecl& d) const {
  const std::string head = "designation " + name(d.name) + text(d.doc);
  if (d.forms.size() == 1 && !d.forms[0].name) return simple(d.span, head + " " + node(d.forms[0]).head);
  std::vector<PrintNode> items;
  add(items, d.forms);
  return block(d.span, head, d.doc ? d.doc->span.end : d.name.span.end, std::move(items));
}

PrintNode Wording::node(const LetDecl& d) const {
  return simple(d.span, "let " + name(d.name) + " =" + soft_break + expression(d.value));
}

PrintNode Wording::node(const AttributeDecl& d) const {
  std::vector<Clause> clauses;
  if (d.range) clauses.push_back({d.range_span.begin, "in " + range(*d.range)});
  if (d.doc) clauses.push_back({d.doc->span.begin, text(*d.doc)});
  if (d.measure) clauses.push_back({d.measure->span.begin, "measure " + text(*d.measure)});
  for (const DefaultSpread& spread : d.spreads) {
    constexpr std::string_view grades[] = {"measured", "tried",    "published",
                                           "claimed",  "unstated", "hearsay"};
    const std::string written =
        std::string(grades[static_cast<std::size_t>(spread.grade)]) + " " + quantity(spread.amount);
    if (&spread == &d.spreads.front()) {
      clauses.push_back({spread.span.begin, "spread " + written});
    } else {
      clauses.back().text += std::string(",") + soft_break + written;
    }
  }
  return simple(d.span, name(d.name) + ": " + type(d.type) + in_order(std::move(clauses)));
}

void Wording::add_groups(std::vector<PrintNode>& items, const std::vector<Name>& groups) const {
  for (std::size_t i = 0; i < groups.size(); ++i) {
    const bool goes_on =
        i > 0 && raw({groups[i].span.file, groups[i - 1].span.end, groups[i].span.begin}).starts_with(',');
    if (goes_on) {
      items.back().head += ", " + name(groups[i]);
      items.back().span.end = groups[i].span.end;
    } else {
      items.push_back(simple(groups[i].span, "with " + name(groups[i])));
    }
  }
}

PrintNode Wording::node(const GroupDecl& d) const {
  std::vector<PrintNode> items;
  add(items, d.attributes);
  return block(d.span, "group " + name(d.name), d.name.span.end, std::move(items));
}

PrintNode Wording::node(const FaceDecl& d) const {
  return simple(d.span, "face " + list(d.names) + ": " + name(d.interface) + "." + name(d.side) +
                            (d.optional ? " optional" : ""));
}

PrintNode Wording::node(const KindDecl& d) const {
  std::vector<PrintNode> items;
  add_groups(items, d.groups);
  add(items, d.faces);
  add(items, d.attributes);
  add(items, d.lets);
  return block(d.span, "kind " + name(d.name) + text(d.doc), d.doc ? d.doc->span.end : d.name.span.end,
               std::move(items));
}

PrintNode Wording::node(const RequirementDecl& d) const {
  constexpr std::string_view weights[] = {"need", "should", "caution", "also"};
  std::string head = std::string(weights[static_cast<std::size_t>(d.weight)]) + " " + name(d.name) + ":" +
                     soft_break + expression(d.test, 0, d.when.is_none());
  if (d.when) head += std::string(1, soft_break) + "when " + expression(d.when);
  std::vector<PrintNode> items;
  if (d.because) items.push_back(simple(d.because->span, "because " + text(*d.because)));
  if (d.source) items.push_back(simple(d.source->span, "source " + text(*d.source)));
  if (d.remedy) items.push_back(simple(d.remedy->span, "remedy " + text(*d.remedy)));
  if (d.settles_at) items.push_back(simple(d.settles_at->span, "settles at " + name(*d.settles_at)));
  if (d.hazard) items.push_back(simple(d.hazard->span, "hazard " + name(*d.hazard)));
  if (items.empty()) return simple(d.span, std::move(head));
  return block(d.span, std::move(head), tree_.exprs[d.when ? d.when : d.test].span.end, std::move(items));
}

PrintNode Wording::node(const SideDecl& d) const {
  std::vector<PrintNode> items;
  add_groups(items, d.groups);
  add(items, d.attributes);
  const std::string before = d.many ? "many " : raw(d.span).starts_with("one") ? "one " : "";
  return block(d.span, before + "side " + name(d.name), d.name.span.end, std::move(items));
}

PrintNode Wording::node(const InterfaceDecl& d) const {
  std::vector<PrintNode> items;
  add(items, d.sides);
  add(items, d.lets);
  add(items, d.requirements);
  return block(d.span, "interface " + name(d.name) + text(d.doc), d.doc ? d.doc->span.end : d.name.span.end,
               std::move(items));
}

PrintNode Wording::node(const RuleDecl& d) const {
  std::vector<PrintNode> items;
  add(items, d.lets);
  add(items, d.requirements);
  const std::uint32_t head_end = d.doc ? d.doc->span.end : d.name.span.end;
  PrintNode result = block(d.span, "rule " + name(d.name) + text(d.doc), head_end, std::move(items));
  if (d.binders.empty()) return result;
  std::string binders;
  for (const Binder& b : d.binders) binders += (binders.empty() ? "" : ", ") + binder(b);
  const Span last = d.where ? tree_.exprs[d.where].span : d.binders.back().span;
  // first: behind a let that ends in `sum of` it would be read as part of that
  result.items.insert(result.items.begin(), simple({d.span.file, d.binders.front().span.begin, last.end},
                                                   "for " + binders + where(d.where, true)));
  return result;
}

PrintNode Wording::node(const PartDecl& d) const {
  return block(d.span, "part " + name(d.name) + text(d.doc) + " is " + name(d.kind), d.kind.span.end,
               assignments(d.assignments));
}

// ---------------------------------------------------------------- assignments

std::uint32_t Wording::closing_brace(FileId file, std::uint32_t after) const {
  const std::string_view bytes = sources_[file].bytes;
  std::size_t i = after;
  while (i < bytes.size() && bytes[i] != '}')
    i = bytes[i] == '#' ? std::min(bytes.find('\n', i), bytes.size()) : i + 1;
  return static_cast<std::uint32_t>(std::min(i + 1, bytes.size()));
}

std::vector<PrintNode> Wording::assignments(IdRange<AssignmentId> list) const {
  std::vector<SheetLine> lines;
  for (const Assignment& assignment : tree_.assignments[list])
    lines.push_back(
        {written_path(tree_, names_, assignment), tree_.span_of(assignment), value(assignment.value)});
  return assignments(lines.data(), lines.data() + lines.size(), 0);
}

std::vector<PrintNode> Wording::assignments(const SheetLine* first, const SheetLine* last,
                                            std::size_t level) const {
  std::vector<PrintNode> items;
  const auto shares = [](const SheetLine& a, const SheetLine& b, std::size_t at) {
    return a.path.outer > at && b.path.outer > at && a.path.names[at].span == b.path.names[at].span;
  };
  const auto names = [&](const SheetLine& line, std::size_t from, std::size_t to) {
    std::string result;
    for (std::size_t i = from; i < to; ++i) result += (i == from ? "" : ".") + name(line.path.names[i]);
    return result;
  };
  while (first != last) {
    if (first->path.outer <= level) {
      items.push_back(
          simple(first->span, names(*first, level, first->path.names.size()) + " " + first->value));
      ++first;
      continue;
    }
    const SheetLine* end = first;
    while (end != last && shares(*first, *end, level)) ++end;
    std::size_t inner = level + 1;
    while (std::all_of(first, end, [&](const SheetLine& a) { return shares(*first, a, inner); })) ++inner;
    const Span begin = first->path.names[level].span;
    const Span span{begin.file, begin.begin, closing_brace(begin.file, (end - 1)->span.end)};
    items.push_back({span,
                     names(*first, level, inner),
                     first->path.names[inner - 1].span.end,
                     true,
                     assignments(first, end, inner),
                     {}});
    first = end;
  }
  return items;
}

}  // namespace mm

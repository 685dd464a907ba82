// Cells of a table to rows.
#include "syntax/builder.hpp"
#include "syntax/recovery.hpp"

namespace mm {

namespace {

std::string of(std::size_t n, const char* what) {
  return std::to_string(n) + " " + what + (n == 1 ? "" : "s");
}

}  // namespace

void make_rows(Builder& builder, TableDecl& table) {
  const std::vector<ValueId> cells = std::exchange(builder.cells, {});
  const std::size_t columns = table.columns.size();
  const auto span_of = [&](std::size_t i) { return builder.tree.values[cells[i]].span; };
  if (cells.empty()) return;
  if (columns == 0) {
    report(builder, {Code::no_columns, span_of(0).begin, span_of(0).end, {}, "as tube: mm  nut: thread", {}});
    return;
  }
  const auto same_line = [&](std::size_t i) {  // as the cell before it
    const Span before = span_of(i - 1);
    return builder.bytes.substr(before.end, span_of(i).begin - before.end).find('\n') ==
           std::string_view::npos;
  };
  // "table t { a: mm  1  2  source ... }": then a row is no line of its own
  const Span head = table.columns.back().name.span;
  const bool one_line =
      builder.bytes.substr(head.end, span_of(0).begin - head.end).find('\n') == std::string_view::npos;
  bool whole = true;  // a short line and a long one must not shift the cells between them
  for (std::size_t first = 0; first < cells.size();) {  // the lines that are no whole rows
    std::size_t last = first + 1;
    while (last < cells.size() && same_line(last)) ++last;
    if (last - first != columns && !(one_line && (last - first) % columns == 0)) {
      whole = false;
      const std::uint32_t begin = span_of(first).begin, end = span_of(last - 1).end;
      report(builder, {Code::row_length,
                       begin,
                       end,
                       {of(last - first, "cell"), of(columns, "column")},
                       "cells are separated by blanks; a row is one line",
                       {}});
      builder.messages.leaves_unread({builder.file, begin, end});
    }
    first = last;
  }
  for (std::size_t i = 0; whole && i < cells.size(); i += columns)
    table.rows.emplace_back(cells.begin() + static_cast<std::ptrdiff_t>(i),
                            cells.begin() + static_cast<std::ptrdiff_t>(i + columns));
}

}  // namespace mm

#include "syntax/builder.hpp"

#include <algorithm>

#include "base/utf8.hpp"
#include "syntax/recovery.hpp"

namespace mm {

namespace {

int number_of(std::string_view digits) {
  int value = 0;
  for (const char c : digits) value = value * 10 + (c - '0');
  return value;
}

int days_in(int year, int month) {
  constexpr int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  const bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
  return days[month - 1] + (month == 2 && leap ? 1 : 0);
}

}  // namespace

void PrefixedOperand::open(Builder& builder, std::uint32_t at) { builder.nest(at); }
void Nested::open(Builder& builder, std::uint32_t at) { builder.nest(at); }

Builder::Builder(FileId file_, const Sources& sources_, Names& names_, Tree& tree_, Messages& messages_)
    : file(file_),
      bytes(sources_[file_].bytes),
      sources(sources_),
      names(names_),
      tree(tree_),
      messages(messages_),
      assignments_taken(tree_.assignments.size()),
      at_first(messages_.mark()),
      first_expr_(tree_.exprs.size()) {
  out.file = file;
}

std::uint32_t Builder::text_begin(std::uint32_t at) const {
  std::uint32_t begin = at;
  while (begin > 0 && at - begin < 4096 && bytes[begin - 1] != '\n') {
    --begin;
    if (bytes[begin] == '"' && (begin == 0 || bytes[begin - 1] != '\\')) return begin;
  }
  return at;
}

std::string Builder::character(std::uint32_t at) const {
  if (at >= bytes.size()) return {};
  return std::string(bytes.substr(at, next_character(bytes, at + 1) - at));
}

TextLiteral Builder::literal(std::string_view matched) {
  const std::uint32_t begin = offset(matched.data());
  std::size_t end = matched.find('"', 1);  // none: the text was broken off
  std::string_view text = matched.substr(1, end - 1);
  if (text.find('\\') != std::string_view::npos) {
    end = 1;
    while (end < matched.size() && matched[end] != '"') end += matched[end] == '\\' ? 2 : 1;
    std::string resolved;
    append_literal(resolved, matched.substr(1, end - 1));
    const Run<char> kept = tree.characters.add(resolved);
    text = {kept.begin(), kept.size()};
  }
  end = std::min(end, matched.size() - 1) + 1;
  return {text, {file, begin, begin + static_cast<std::uint32_t>(end)}};
}

void append_literal(std::string& out, std::string_view matched) {
  while (true) {
    const std::size_t escape = matched.find('\\');
    if (escape == std::string_view::npos || escape + 1 == matched.size()) break;
    const char c = matched[escape + 1];
    out.append(matched.substr(0, escape)) += c == 'n' ? '\n' : c;
    matched.remove_prefix(escape + 2);
  }
  out.append(matched);
}

void lend_unit(Builder& builder, ExprId lo, ExprId hi) {
  const auto quantity = [&](ExprId id) {
    if (auto* minus = std::get_if<UnaryExpr>(&builder.tree.exprs[id].form)) id = minus->operand;
    return std::get_if<QuantityExpr>(&builder.tree.exprs[id].form);
  };
  QuantityExpr* low = quantity(lo);
  QuantityExpr* high = quantity(hi);
  if (low == nullptr || high == nullptr || low->quantity.has_unit()) return;
  low->quantity.unit = high->quantity.unit;
  low->quantity.unit_begin = high->quantity.unit_begin;
}

DateSyntax Builder::date(std::string_view matched) {
  const std::uint32_t begin = offset(matched.data());
  const int year = number_of(matched.substr(0, 4));
  const int month = number_of(matched.substr(5, 2));
  const int day = number_of(matched.substr(8, 2));
  if (month < 1 || month > 12 || day < 1 || day > days_in(year, month)) {
    report(*this, {Code::no_such_day,
                   begin,
                   begin + date_length,
                   {std::string(matched.substr(0, date_length))},
                   "a date is written year-month-day, as 2026-03-14",
                   {}});
    messages.hides_nothing();
  }
  return {{static_cast<std::int16_t>(year), static_cast<std::uint8_t>(month), static_cast<std::uint8_t>(day)},
          {file, begin, begin + date_length}};
}

UnitSyntax Builder::read_unit(std::string_view matched) {
  const std::uint32_t begin = offset(matched.data());
  const UnitId id{tree.unit_texts.intern(matched).index};
  if (id.index == tree.units.size()) tree.units.add(read_factors(matched));
  return {id, {file, begin, begin + static_cast<std::uint32_t>(matched.size())}};
}

Run<UnitFactorSyntax> Builder::read_factors(std::string_view written) {
  std::vector<UnitFactorSyntax> factors;
  if (written == "%") {
    factors.push_back({names.intern("percent"), 1});
    return tree.factors.add(factors);
  }
  int sign = 1;
  if (written.starts_with("1/")) {
    sign = -1;
    written.remove_prefix(2);
  }
  while (true) {
    const std::string_view word = front_word(written);
    UnitFactorSyntax factor{names.intern(word), sign};
    written.remove_prefix(word.size());
    if (written.starts_with('^')) {
      written.remove_prefix(1);
      const bool negative = written.starts_with('-');
      if (negative) written.remove_prefix(1);
      const std::string_view power = front_word(written);
      factor.power *= number_of(power) * (negative ? -1 : 1);
      written.remove_prefix(power.size());
    }
    factors.push_back(factor);
    if (written.empty()) break;
    sign = written[0] == '*' ? 1 : -1;
    written.remove_prefix(1);
  }
  return tree.factors.add(factors);
}

Path Builder::take_path(Span where) {
  const Path result{tree.names.add(path_names), where};
  path_names.clear();
  return result;
}

IdRange<AssignmentId> Builder::take_assignments() {
  const std::size_t first = std::exchange(assignments_taken, tree.assignments.size());
  return {AssignmentId{first}, static_cast<std::uint32_t>(assignments_taken - first)};
}

void Builder::drop_pieces() {
  items.clear();
  quantities.clear();
  binders.clear();
  attributes.clear();
  lets.clear();
  requirements.clear();
  assignments_taken = tree.assignments.size();
  path_names.clear();
  face_block = FaceBlockId::none();
  values_read.clear();
  cells.clear();
  groups.clear();
  pattern.clear();
  template_pieces.clear();
}

void Builder::note_depth(unsigned depth, Span where) {
  if (depth > max_expression_depth)
    throw Failure{
        Code::expression_too_long,      where.begin, where.begin + 1, {std::to_string(max_expression_depth)},
        "cut it into several with let", {}};
  depths_.push_back(static_cast<std::uint16_t>(depth));
}

ExprId Builder::pop() {
  const ExprId id = items.back().id;
  items.pop_back();
  return id;
}

std::vector<ExprId> Builder::pop_from(std::size_t mark) {
  std::vector<ExprId> result;
  result.reserve(items.size() - mark);
  for (std::size_t i = mark; i < items.size(); ++i) result.push_back(items[i].id);
  items.resize(mark);
  return result;
}

void Builder::nest(std::uint32_t at) {
  if (++nesting > max_nesting) throw too_deep(at);
}

Failure Builder::too_deep(std::uint32_t at) const {
  return {Code::nested_too_deep,
          at,
          at + 1,
          {std::to_string(max_nesting)},
          max_nesting < most_nesting ? "allow more with --max-nesting" : "",
          {}};
}

void one_line(Builder& builder, Span text) {
  const std::size_t at = builder.text(text).find('\n');
  if (at == std::string_view::npos) return;
  const auto end = text.begin + static_cast<std::uint32_t>(at);
  report(builder, {Code::text_across_lines, text.begin, end, {}, std::string(one_line_hint), {}});
  builder.messages.hides_nothing();
}

Name one_name(const Builder&, const Path& path) {
  if (path.names.size() == 1) return path.names.front();
  const Span dot = path.names[1].span;
  throw Failure{
      Code::expected_one_name, path.span.begin, dot.end, {}, "as join left_end: axle.end + hub.face", {}};
}

}  // namespace mm

#include "syntax/builder.hpp"

#include <algorithm>

#include "syntax/expr_children.hpp"
#include "syntax/recovery.hpp"

namespace mm {

namespace {

bool part_of_name(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_';
}

std::string_view front_name(std::string_view text) {
  return text.substr(
      0, static_cast<std::size_t>(std::find_if_not(text.begin(), text.end(), part_of_name) - text.begin()));
}

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

void Operand::open(Builder& builder, std::uint32_t at) { builder.nest(at); }
void Nested::open(Builder& builder, std::uint32_t at) { builder.nest(at); }

Builder::Builder(FileId file_, const Sources& sources_, Names& names_, Tree& tree_, Messages& messages_)
    : file(file_),
      bytes(sources_[file_].bytes),
      sources(sources_),
      names(names_),
      tree(tree_),
      messages(messages_),
      first_expr_(tree_.exprs.size()) {
  out.file = file;
}

Span Builder::span(std::uint32_t begin, std::uint32_t end) const {
  if (end == space_end && space_begin >= begin) end = space_begin;
  return {file, begin, end};
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
  std::size_t length = at < bytes.size() ? 1 : 0;
  while (at + length < bytes.size() && (static_cast<unsigned char>(bytes[at + length]) & 0xC0U) == 0x80U)
    ++length;
  return std::string(bytes.substr(at, length));
}

Name Builder::name(std::string_view matched) {
  const std::string_view word = front_name(matched);
  const std::uint32_t begin = offset(word.data());
  return {names.intern(word), {file, begin, begin + static_cast<std::uint32_t>(word.size())}};
}

TextLiteral Builder::literal(std::string_view matched) const {
  TextLiteral result;
  const std::uint32_t begin = offset(matched.data());
  std::size_t end = 1;
  while (end < matched.size() && matched[end] != '"') end += matched[end] == '\\' ? 2 : 1;
  append_literal(result.text, matched.substr(1, end - 1));
  result.span = {file, begin, begin + static_cast<std::uint32_t>(std::min(end + 1, matched.size()))};
  return result;
}

void append_literal(std::string& out, std::string_view matched) {
  for (std::size_t i = 0; i < matched.size(); ++i) {
    if (matched[i] == '\\' && i + 1 < matched.size()) {
      ++i;
      out += matched[i] == 'n' ? '\n' : matched[i];
    } else {
      out += matched[i];
    }
  }
}

void lend_unit(Builder& builder, ExprId lo, ExprId hi) {
  const auto quantity = [&](ExprId id) {
    if (auto* minus = std::get_if<UnaryExpr>(&builder.tree.exprs[id].form)) id = minus->operand;
    return std::get_if<QuantityExpr>(&builder.tree.exprs[id].form);
  };
  QuantityExpr* low = quantity(lo);
  QuantityExpr* high = quantity(hi);
  if (low != nullptr && high != nullptr && low->quantity.unit.empty())
    low->quantity.unit = high->quantity.unit;
}

DateSyntax Builder::date(std::string_view matched) const {
  const std::uint32_t begin = offset(matched.data());
  DateSyntax result{number_of(matched.substr(0, 4)),
                    number_of(matched.substr(5, 2)),
                    number_of(matched.substr(8, 2)),
                    {file, begin, begin + 10}};
  if (result.month < 1 || result.month > 12 || result.day < 1 ||
      result.day > days_in(result.year, result.month))
    throw Failure{Code::no_such_day,
                  begin,
                  begin + 10,
                  {std::string(matched.substr(0, 10))},
                  "a date is written year-month-day, as 2026-03-14",
                  {}};
  return result;
}

QuantitySyntax Builder::take_quantity() {
  QuantitySyntax result = std::move(quantities.back());
  quantities.pop_back();
  return result;
}

UnitSyntax Builder::read_unit(std::string_view matched) {
  const auto known = units_.find(matched);
  if (known != units_.end()) {
    const std::uint32_t begin = offset(matched.data());
    return {known->second, {file, begin, begin + static_cast<std::uint32_t>(matched.size())}};
  }
  const UnitSyntax result = read_type_unit(matched);
  if (result.span.end == offset(matched.data() + matched.size())) units_.emplace(matched, result.factors);
  return result;
}

UnitSyntax Builder::read_type_unit(std::string_view matched) {
  std::vector<UnitFactorSyntax> factors;
  const auto begin = offset(matched.data());
  std::string_view rest = matched;
  if (rest.starts_with('%')) {
    factors.push_back({{names.intern("percent"), {file, begin, begin + 1}}, 1});
    return {tree.factors.add(factors), {file, begin, begin + 1}};
  }
  int sign = 1;
  if (rest.starts_with("1/")) {
    sign = -1;
    rest.remove_prefix(2);
  }
  while (true) {
    const std::string_view word = front_name(rest);
    UnitFactorSyntax factor{name(rest), sign};
    rest.remove_prefix(word.size());
    if (rest.starts_with('^')) {
      rest.remove_prefix(1);
      const bool negative = rest.starts_with('-');
      if (negative) rest.remove_prefix(1);
      const std::string_view power = front_name(rest);
      factor.power *= number_of(power) * (negative ? -1 : 1);
      rest.remove_prefix(power.size());
    }
    factors.push_back(factor);
    if (rest.empty() || (rest[0] != '*' && rest[0] != '/')) break;
    sign = rest[0] == '*' ? 1 : -1;
    rest.remove_prefix(1);
  }
  return {tree.factors.add(factors), {file, begin, offset(rest.data())}};
}

Path Builder::take_path(Span where) {
  const Path result{tree.names.add(path_names), where};
  path_names.clear();
  return result;
}

void Builder::drop_pieces() {
  items.clear();
  quantities.clear();
  binders.clear();
  attributes.clear();
  lets.clear();
  requirements.clear();
  assignments.clear();
  path_names.clear();
  outer_names.clear();
  values_read.clear();
  cells.clear();
  groups.clear();
  pattern.clear();
  template_pieces.clear();
}

ExprId Builder::make(decltype(Expr::form) form, Span where) {
  Expr expr{std::move(form), where};
  unsigned depth = 1;
  for_each_child(expr,
                 [&](ExprId child) { depth = std::max(depth, depths_[child.index - first_expr_] + 1U); });
  if (depth > max_expression_depth)
    throw Failure{
        Code::expression_too_long,      where.begin, where.begin + 1, {std::to_string(max_expression_depth)},
        "cut it into several with let", {}};
  const ExprId id = tree.exprs.add(std::move(expr));
  depths_.push_back(static_cast<std::uint16_t>(depth));
  return id;
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

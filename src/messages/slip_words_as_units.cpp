// Words behind a number that were taken for its unit, though another meaning was wanted.
#include <algorithm>
#include <array>

#include "base/unit_names.hpp"
#include "messages/slip_line.hpp"
#include "messages/slip_words.hpp"

namespace mm {

/// 4 m.bore  4 m {  0..9 t: kg  4 turn 2 deg
std::optional<Slip> name_as_unit(const LineReader& line, std::size_t at, std::size_t end) {
  if (line.starts(end, "..") && is_digit(line.peek(end + 2))) end = line.number(end + 2);
  const std::size_t begin = line.blanks(end);
  const std::string name(line.word(begin));
  if (begin == end || name.empty() || is_digit(name[0])) return {};
  const std::size_t behind = begin + name.size(), next = line.blanks(behind);
  const char sign = line.peek(next);
  if (next != behind && (line.number(next) != next || sign == '"') && is_builtin_unit_name(name)) {
    Slip slip{
        at, behind,
        name + " was taken as a unit; put ';' or a new line before it: " + line.cut(at, end) + "; " + name,
        false, next};
    slip.attribute = name;
    return slip;
  }
  for (const Spelling& torque : other_torques)  // 5 N.m
    if (line.starts(begin, torque.seen) && !is_word_part(line.peek(begin + torque.seen.size()))) return {};
  const bool path = sign == '.' && next == behind && is_letter(line.peek(next + 1));
  if (!path && sign != '{' && sign != ':') return {};
  return Slip{at, behind, "put ';' before " + name + ": a statement ends with its line or with ';'", false,
              next};
}

namespace {

/// Behind a number with or without a unit, or what stands in brackets; `i` where there is neither.
std::size_t range_end(const LineReader& line, std::size_t i) {
  const std::size_t begin = line.peek(i) == '-' ? line.blanks(i + 1) : i;
  if (line.peek(begin) != '(') {
    const std::size_t end = line.number(begin);
    return end == begin ? i : line.unit(end);
  }
  int depth = 0;
  for (std::size_t end = begin; end < line.line().size(); ++end) {
    if (line.peek(end) == '(') ++depth;
    if (line.peek(end) == ')' && --depth == 0) return end + 1;
  }
  return i;
}

/// Where the arithmetic begins that ends at `end`.
std::size_t arithmetic_begin(const LineReader& line, std::size_t end) {
  constexpr std::array<std::string_view, 10> borders = {"and",   "or",   "not", "when", "has",
                                                        "where", "then", "if",  "else", "that"};
  std::size_t begin = 0;
  std::vector<std::size_t> open;
  for (std::size_t i = 0; i < end; ++i) {
    const char c = line.peek(i);
    if (c == '"') {
      while (++i < end && line.peek(i) != '"') i += line.peek(i) == '\\' ? 1 : 0;
    } else if (c == '(') {
      open.push_back(begin);
      begin = i + 1;
    } else if (c == ')' && !open.empty()) {
      begin = open.back();
      open.pop_back();
    } else if (std::string_view(":{}=<>,;[").find(c) != std::string_view::npos) {
      begin = i + 1;
    }
    const std::string_view word = line.word(i);
    if (word.empty()) continue;
    if (std::find(borders.begin(), borders.end(), word) != borders.end()) begin = i + word.size();
    i += word.size() - 1;
  }
  return line.blanks(begin);
}

}  // namespace

/// p.n - 2 in 0..3
std::optional<Slip> in_as_inches(const LineReader& line, std::size_t at, std::size_t end) {
  const std::size_t in = line.blanks(end), low = line.blanks(in + 2);
  if (in == end || line.word(in) != "in" || low == in + 2) return {};
  const std::size_t dots = line.blanks(range_end(line, low));
  if (range_end(line, low) == low || !line.starts(dots, "..")) return {};
  const std::size_t high = line.blanks(dots + 2), behind = range_end(line, high);
  if (behind == high) return {};
  const std::string number = line.cut(at, end);
  const std::size_t begin = std::min(arithmetic_begin(line, at), at);
  const bool goes_on = begin < at &&
                       std::string_view("+-*/^").find(line.peek(begin)) != std::string_view::npos &&
                       begin == line.blanks(0);  // what the line before began
  return Slip{at, behind,
              number + " in was read as " + number + " inches; write (" + (goes_on ? "... " : "") +
                  line.cut(begin, end) + ") in " + line.cut(low, behind),
              false};
}

}  // namespace mm

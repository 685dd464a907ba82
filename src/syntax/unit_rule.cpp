#include "syntax/unit_rule.hpp"

#include <algorithm>

#include "base/characters.hpp"
#include "base/unit_names.hpp"

namespace mm {

namespace {

bool known(std::string_view word) {
  const auto capital = [](char c) { return c >= 'A' && c <= 'Z'; };
  return is_builtin_unit_name(word) || (word.size() == 3 && std::all_of(word.begin(), word.end(), capital));
}

std::string_view last_run(std::string_view text, std::string_view also) {
  std::size_t begin = text.size();
  while (begin > 0 && (is_in_word(text[begin - 1]) || also.find(text[begin - 1]) != std::string_view::npos))
    --begin;
  return text.substr(begin);
}

}  // namespace

bool needs_semicolon(std::string_view before, std::string_view next, bool same_line) {
  if (next.starts_with("step ") && before.starts_with("adjustable ") &&
      before.find(" step ") == std::string_view::npos)
    return true;
  if (next.starts_with("step ") && before.find(" adjustable ") != std::string_view::npos &&
      before.find(" step ") == std::string_view::npos)
    return true;
  if (!same_line || next.empty()) return false;
  const std::string_view word = last_run(before, "");
  if (!word.empty() && is_digit(word[0])) {  // a bare number
    if (next[0] == '%') return true;
    const std::size_t digits = std::min(next.find_first_not_of("0123456789"), next.size());
    if (digits > 0) return next.substr(digits).starts_with('/');  // 1 1/4
    if (!is_letter(next[0])) return false;
    const std::string_view after_word = next.substr(front_word(next).size());
    const std::size_t at = after_word.find_first_not_of(' ');
    const char follows = at == std::string_view::npos ? '\n' : after_word[at];
    return known(front_word(next)) ||
           std::string_view("*/^+-=<>{,;)]\n\xC2").find(follows) != std::string_view::npos;
  }
  const std::string_view unit = last_run(before, "*/^-");  // a number and a unit of the file's own
  if (unit.empty() || !is_letter(unit[0]) || known(front_word(unit))) return false;
  const std::string_view rest = before.substr(0, before.size() - unit.size());
  const std::size_t number_end = rest.find_last_not_of(' ');
  return number_end != std::string_view::npos && number_end + 1 < rest.size() && is_digit(rest[number_end]);
}

}  // namespace mm

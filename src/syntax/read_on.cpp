#include "syntax/read_on.hpp"

#include "base/grade_words.hpp"
#include "base/unit_names.hpp"
#include "syntax/scan.hpp"
#include "syntax/wording.hpp"

namespace mm {

namespace {

/// Past a text in quotes of some sort, which begins at `at`; `at` itself where none does; nothing where it
/// does not end on its line.
std::optional<std::size_t> past_quotes(std::string_view bytes, std::size_t at) {
  if (opens_text(bytes, at)) {
    const std::size_t end = text_end(bytes, at);
    return bytes[end - 1] == '"' && end > at + 1 ? std::optional(end) : std::nullopt;
  }
  constexpr std::string_view pairs[][2] = {
      {"'", "'"}, {"`", "`"}, {"\u201C", "\u201D"}, {"\u2018", "\u2019"}};
  for (const auto& [open, close] : pairs) {
    if (!bytes.substr(at).starts_with(open)) continue;
    for (std::size_t end = at + open.size(); end < bytes.size() && bytes[end] != '\n'; ++end)
      if (bytes.substr(end).starts_with(close)) return end + close.size();
    return std::nullopt;
  }
  return at;
}

/// Whether the words passed last are prose, "see the" before "note 3": what follows may be a part of it. One
/// word alone may be a value, behind a sign, or how a value is known.
class Prose {
 public:
  void pass_word(std::string_view word) {
    const bool value = after_sign_ || after_per_;
    after_per_ = word == "per";
    on_ = !value && !after_per_ && !is_digit(word.front()) && !is_builtin_unit_name(word) &&
          !is_grade(word) && !holds(reserved_words, word);
    after_sign_ = false;
  }
  void pass_sign(char c) {
    if (is_gap(c)) return;
    after_sign_ = c == '=' || c == ':';
    on_ = after_per_ = false;
  }
  bool is_on() const { return on_; }

 private:
  bool on_ = false, after_sign_ = false, after_per_ = false;
};

bool may_stand_before(char c) {
  return is_gap(c) || std::string_view("});,").find(c) != std::string_view::npos;
}

}  // namespace

std::optional<std::uint32_t> read_on(const Builder& builder, std::uint32_t begin, std::uint32_t failed,
                                     std::uint32_t end, Begins begins) {
  const std::string_view bytes = builder.bytes;
  // a requirement where attributes are wanted: the block round it is not closed, and nothing is sure
  if (begins == Begins::attribute && holds(weight_words, word_at(bytes, begin))) return std::nullopt;
  std::size_t i = begin;
  while (i < failed && i < end)
    i = opens_text(bytes, i) ? text_end(bytes, i) : bytes[i] == '#' ? line_end(bytes, i) : i + 1;
  std::size_t blocks = 0, brackets = 0;
  Prose prose;
  if (word_before(bytes, i) == "per") prose.pass_word("per");
  while (i < end) {
    const char c = bytes[i];
    const auto past = past_quotes(bytes, i);
    if (!past || c == '#' || (c == '\n' && blocks == 0)) return std::nullopt;
    if (*past > i) {
      prose.pass_sign('"');
      i = *past;
      continue;
    }
    if (c == '{') ++blocks;
    if (c == '}' && blocks-- == 0) return std::nullopt;
    if (c == '(' || c == '[') ++brackets;
    if ((c == ')' || c == ']') && brackets > 0) --brackets;
    if (!is_in_word(c)) {
      prose.pass_sign(c);
      ++i;
      continue;
    }
    const bool free = blocks == 0 && brackets == 0 && i > begin && may_stand_before(bytes[i - 1]) &&
                      !(prose.is_on() && begins == Begins::assignment);
    if (free && is_letter(c) && begins_here(bytes, i, begins)) return static_cast<std::uint32_t>(i);
    prose.pass_word(word_at(bytes, i));
    i += word_at(bytes, i).size();
  }
  return std::nullopt;
}

std::optional<std::uint32_t> taken_for_a_value(const Builder& builder, std::uint32_t failed) {
  const std::string_view bytes = builder.bytes;
  const std::string_view word = word_before(bytes, failed);
  if (word.empty() || !is_letter(word.front())) return std::nullopt;
  const auto at = static_cast<std::uint32_t>(word.data() - bytes.data());
  const std::string_view before = word_before(bytes, at);
  const bool is_value = !before.empty() && is_letter(before.front()) && !holds(reserved_words, before);
  if (!is_value || at <= builder.read_on_at || !begins_here(bytes, at, Begins::assignment))
    return std::nullopt;
  for (std::size_t i = failed; i < line_end(bytes, failed);
       i += std::max<std::size_t>(1, word_at(bytes, i).size())) {
    const std::string_view behind = word_at(bytes, i);
    if (behind.empty() || is_digit(behind.front()) || is_builtin_unit_name(behind)) continue;
    if (holds(reserved_words, behind) && behind != "per") return std::nullopt;  // "between 50 mm and 60 mm"
    break;
  }
  return at;
}

}  // namespace mm

// Which messages are held back when a statement of the text could not be read: what they miss may be in it.
#include <algorithm>
#include <array>
#include <unordered_set>

#include "base/characters.hpp"
#include "messages/message.hpp"

namespace mm {

namespace {

/// What is missed is a word at the message's place.
constexpr std::array word_codes{Code::unknown_name,   Code::unknown_unit,      Code::unknown_type,
                                Code::unknown_choice, Code::word_unknown,      Code::field_unknown,
                                Code::column_unknown, Code::attribute_unknown, Code::not_fitted};
/// What is missed may be named anywhere.
constexpr std::array other_codes{
    Code::too_few_sides,          Code::say_which_place,   Code::join_no_face,
    Code::join_which_face,        Code::join_side_missing, Code::join_interfaces_differ,
    Code::designation_unreadable, Code::price_currency,    Code::mate_of_many,
    Code::argument_count,         Code::wrong_value,       Code::join_other_side};

template <typename List>
bool is_one_of(const List& list, Code code) {
  return std::find(list.begin(), list.end(), code) != list.end();
}

using Words = std::unordered_set<std::string_view>;

/// Calls `use(word)` for each word of a text until it says true.
template <typename Use>
bool any_word(std::string_view text, Use use) {
  for (std::size_t at = 0; at < text.size();) {
    std::size_t end = at;
    while (end < text.size() && is_in_word(text[end])) ++end;
    if (end > at && use(text.substr(at, end - at))) return true;
    at = end + 1;
  }
  return false;
}

}  // namespace

void Messages::take(const Messages& other, const Sources& sources) {
  const bool anything_is_missing = text_is_missing();
  Words unread;
  for (const Span text : unread_)
    any_word(sources.text(text), [&](std::string_view word) {
      unread.insert(word);
      return false;
    });
  std::vector<std::pair<FileId, std::uint32_t>> wrong;  // where the text is
  for (const Message& message : list_) wrong.emplace_back(message.span.file, message.span.begin);
  std::sort(wrong.begin(), wrong.end());
  /// The statement was read up to a place that is wrong: what it means so far may be wrong for that.
  const auto goes_wrong = [&](Span at) {
    const auto next = std::lower_bound(wrong.begin(), wrong.end(), std::pair(at.file, at.end));
    if (next == wrong.end() || next->first != at.file) return false;
    const Span between{at.file, at.end, next->second};
    return sources.text(between).find_first_of("{};\n") == std::string_view::npos;
  };
  const auto stands_in_doubt = [&](const Message& message) {
    return goes_wrong(message.span) ||
           std::any_of(message.labels.begin(), message.labels.end(),
                       [&](const Label& label) { return goes_wrong(label.span); });
  };
  const auto is_unread = [&](std::string_view word) { return unread.contains(word); };
  const auto may_follow = [&](const Message& message) {
    if (is_one_of(other_codes, message.code)) return anything_is_missing || !unread_.empty();
    return is_one_of(word_codes, message.code) && (anything_is_missing || stands_in_doubt(message) ||
                                                   any_word(sources.text(message.span), is_unread));
  };
  for (const Message& message : other.list_)
    if (!may_follow(message)) hold(message);
  not_held_ += other.not_held_;
  error_not_held_ = error_not_held_ || (other.error_not_held_ && !anything_is_missing);
}

}  // namespace mm

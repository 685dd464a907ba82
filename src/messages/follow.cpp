// Which messages are held back when a statement of the text could not be read: what they miss may be in it.
#include <algorithm>
#include <array>
#include <tuple>
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
  struct Wrong {
    FileId file;
    std::uint32_t begin = 0;
    Code code = Code::expected;
    bool operator<(const Wrong& other) const {
      return std::tie(file, begin) < std::tie(other.file, other.begin);
    }
  };
  std::vector<Wrong> wrong;  // where the text is
  for (const Message& message : list_) wrong.push_back({message.span.file, message.span.begin, message.code});
  std::sort(wrong.begin(), wrong.end());
  /// Calls `is_it(what is wrong next, the text up to there)`, if something is.
  const auto next_wrong = [&](FileId file, std::uint32_t from, auto is_it) {
    const auto next = std::lower_bound(wrong.begin(), wrong.end(), Wrong{file, from});
    return next != wrong.end() && next->file == file && is_it(*next, sources.text({file, from, next->begin}));
  };
  /// The statement was read up to a place that is wrong: what it means so far may be wrong for that.
  const auto goes_wrong = [&](Span at) {
    return next_wrong(at.file, at.end, [](const Wrong&, std::string_view between) {
      return between.find_first_of("{};\n") == std::string_view::npos;
    });
  };
  /// The very word, or the unit behind a number that lacks one, is told as wrong.
  const auto told = [&](const Message& message) {
    const Span at = message.span;
    return next_wrong(at.file, at.begin, [](const Wrong&, std::string_view to) { return to.empty(); }) ||
           (message.code == Code::unit_missing &&
            next_wrong(at.file, at.end, [](const Wrong& next, std::string_view between) {
              return next.code == Code::unknown_unit &&
                     between.find_first_not_of(" \t") == std::string_view::npos;
            }));
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
    if (!told(message) && !may_follow(message)) hold(message);
  not_held_ += other.not_held_;
  error_not_held_ = error_not_held_ || (other.error_not_held_ && !anything_is_missing);
}

}  // namespace mm

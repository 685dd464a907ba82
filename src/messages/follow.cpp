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
    Code::argument_count,         Code::join_other_side};

template <typename List>
bool is_one_of(const List& list, Code code) {
  return std::find(list.begin(), list.end(), code) != list.end();
}

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

/// What is wrong with the text itself.
class WrongText {
 public:
  WrongText(const Sources& sources, const std::vector<Message>& messages, const std::vector<Span>& unread)
      : sources_(sources) {
    for (const Message& message : messages)
      places_.push_back({message.span.file, message.span.begin, message.code});
    std::sort(places_.begin(), places_.end());
    for (const Span text : unread)
      any_word(sources.text(text), [&](std::string_view word) {
        words_.insert(word);
        return false;
      });
  }

  /// The very word, or the unit behind a number that lacks one, is told as wrong.
  bool tells(const Message& message) const {
    const Span at = message.span;
    return next(at.file, at.begin, [](const Place&, std::string_view to) { return to.empty(); }) ||
           (message.code == Code::unit_missing &&
            next(at.file, at.end, [](const Place& place, std::string_view between) {
              return place.code == Code::unknown_unit &&
                     between.find_first_not_of(" \t") == std::string_view::npos;
            }));
  }

  /// Its statement was read up to a place that is wrong: what it means so far may be wrong for that.
  bool puts_in_doubt(const Message& message) const {
    return goes_wrong(message.span) ||
           std::any_of(message.labels.begin(), message.labels.end(),
                       [&](const Label& label) { return goes_wrong(label.span); });
  }

  /// The same for a word: no more than `between` words stand between it and the place, a value and its unit.
  bool puts_in_doubt(const Message& message, std::size_t between) const {
    return next(message.span.file, message.span.end, [&](const Place&, std::string_view text) {
      std::size_t words = 0;
      any_word(text, [&](std::string_view) { return ++words > between; });
      return words <= between && text.find_first_of("{};\n") == std::string_view::npos;
    });
  }

  /// It stands at the head of the line below what has no value, which took it for one.
  bool is_taken_for_a_value(const Message& message) const {
    const Span at = message.span;
    const auto place = std::lower_bound(places_.begin(), places_.end(), Place{at.file, at.begin});
    if (place == places_.begin()) return false;
    const Place& before = *std::prev(place);
    if (before.file != at.file || before.code != Code::expected) return false;
    std::string_view between = sources_.text({at.file, before.begin, at.begin});
    if (between.find('\n') == std::string_view::npos) return false;
    while (!between.empty()) {  // blanks and comments
      const std::string_view line = between.substr(0, between.find('\n'));
      const std::size_t solid = line.find_first_not_of(" \t\r");
      if (solid != std::string_view::npos && line[solid] != '#') return false;
      between.remove_prefix(std::min(line.size() + 1, between.size()));
    }
    return true;
  }

  /// A word at its place stands in what was not read.
  bool holds_a_word_of(const Message& message) const {
    return any_word(sources_.text(message.span),
                    [&](std::string_view word) { return words_.contains(word); });
  }

 private:
  struct Place {
    FileId file;
    std::uint32_t begin = 0;
    Code code = Code::expected;
    bool operator<(const Place& other) const {
      return std::tie(file, begin) < std::tie(other.file, other.begin);
    }
  };

  /// `is_it(the next wrong place, the text up to there)`, if there is one in the file.
  template <typename IsIt>
  bool next(FileId file, std::uint32_t from, IsIt is_it) const {
    const auto place = std::lower_bound(places_.begin(), places_.end(), Place{file, from});
    return place != places_.end() && place->file == file &&
           is_it(*place, sources_.text({file, from, place->begin}));
  }
  bool goes_wrong(Span at) const {
    return next(at.file, at.end, [](const Place&, std::string_view between) {
      return between.find_first_of("{};\n") == std::string_view::npos;
    });
  }

  const Sources& sources_;
  std::vector<Place> places_;
  std::unordered_set<std::string_view> words_;
};

}  // namespace

bool Messages::may_be_no_attribute(const Message& message) const {
  const Span at = message.span;
  if (message.code != Code::attribute_unknown) return false;
  auto text = read_on_.upper_bound({at.file.index, at.begin});
  if (text == read_on_.begin()) return false;
  --text;
  const auto [file, begin] = text->first;
  if (file != at.file.index || at.begin >= text->second.end) return false;
  return message.hint.empty() || (text->second.first_doubtful && at.begin == begin);
}

void Messages::take(const Messages& other, const Sources& sources) {
  const bool anything_is_missing = text_is_missing();
  const WrongText wrong(sources, list_, unread_);
  const auto may_follow = [&](const Message& message) {
    if (message.code == Code::not_a_truth)
      return wrong.puts_in_doubt(message);  // what is left of a condition
    if (is_one_of(other_codes, message.code)) return anything_is_missing || !unread_.empty();
    if (message.code == Code::wrong_value && wrong.is_taken_for_a_value(message)) return true;
    const bool choice = message.code == Code::unknown_choice;
    if (choice || message.code == Code::attribute_unknown || message.code == Code::wrong_value)
      return anything_is_missing || wrong.holds_a_word_of(message) ||
             wrong.puts_in_doubt(message, choice ? 0 : 2);
    return is_one_of(word_codes, message.code) &&
           (anything_is_missing || wrong.puts_in_doubt(message) || wrong.holds_a_word_of(message));
  };
  const auto is_read_on = [&](const Message& message) {  // it is no part of the slip that ends there
    const auto text = read_on_.find({message.span.file.index, message.span.begin});
    return message.code == Code::attribute_unknown && text != read_on_.end() && !text->second.first_doubtful;
  };
  for (const Message& message : other.list_)
    if (!may_be_no_attribute(message) && (is_read_on(message) || !wrong.tells(message)) &&
        !may_follow(message))
      hold(message);
  not_held_ += other.not_held_;
  error_not_held_ = error_not_held_ || (other.error_not_held_ && !anything_is_missing);
}

}  // namespace mm

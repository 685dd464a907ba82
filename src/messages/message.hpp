// Errors and warnings as values: a code, a place, arguments, further places. Collected, never thrown.
#pragma once
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "text/source.hpp"

namespace mm {

enum class MessageWeight : std::uint8_t { error, warning };

/// One code a row in codes.def: MM_MESSAGE(code, weight, "text with {0} {1}").
enum class Code : std::uint16_t {
#define MM_MESSAGE(code, weight, text) code,
#include "messages/codes.def"
#undef MM_MESSAGE
};

std::string_view code_name(Code code);
MessageWeight weight_of(Code code);

/// A further place that explains a message ("first declared here").
struct Label {
  Span span;
  std::string text;
};

struct Message {
  Code code;
  Span span;
  std::vector<std::string> arguments;
  std::vector<Label> labels;
  std::string hint;  // what would be right; may be empty
  std::string
      wanted{};  // the dimension of the number that should stand there, "length" or "GBP"; may be empty
  std::vector<Span> same_at{};  // where else the same is to be told
};

/// Holds the first twenty thousand and counts the rest, so that a text with an error in every word stays
/// cheap.
class Messages {
 public:
  Message& add(Code code, Span span, std::vector<std::string> arguments = {}, std::string hint = {});
  /// Takes over messages of `other`, which is what the text means; without those that may only follow from
  /// text that could not be read.
  void take(const Messages& other, const Sources& sources);
  /// Gives each message the hint that `hint_of` finds for it, before one that it has; "" changes nothing.
  void add_hints(const std::function<std::string(const Message&)>& hint_of);
  /// Where one name is wrong in many places its first message takes over the places of the others.
  void gather_same_names();
  /// Drops those at whose place in all() `gone` holds.
  void drop(const std::function<bool(std::size_t)>& gone);
  bool has_errors() const;
  /// What was added before a mark is kept, what came after it forgotten.
  struct Mark {
    std::size_t held = 0, not_held = 0, accounted = 0, unread = 0;
    bool error_not_held = false;
  };
  Mark mark() const { return {list_.size(), not_held_, accounted_, unread_.size(), error_not_held_}; }
  void back_to(const Mark& mark);
  /// The error added last hides no name: an attribute's value, or a text that was read all the same.
  void hides_nothing() { ++accounted_; }
  /// For the error added last this text was not read: what it declares is in these words of it.
  void leaves_unread(Span text) {
    ++accounted_;
    unread_.push_back(text);
  }
  /// Behind an error the rest of its line was read from here on: what stands before is all that it hides.
  /// An attribute in this text that is not known may be none; `first_doubtful`: its first, whatever it is
  /// like.
  void reads_on(Span text, bool first_doubtful) {
    read_on_[{text.file.index, text.begin}] = {text.end, first_doubtful};
  }
  /// Where on a line reading went on so, at `from` or behind it; nothing: nowhere.
  std::optional<std::uint32_t> next_read_on(Span line, std::uint32_t from) const;
  const std::vector<Message>& all() const { return list_; }
  /// By file, place and code, exact repeats dropped; at most `limit` are kept and `*dropped` says how many
  /// or never were held.
  std::vector<Message> sorted(std::size_t limit, std::size_t* dropped) const;

 private:
  static constexpr std::size_t most_held = 20'000;

  Message& hold(Message message);
  /// A statement could not be read that may declare whatever others name.
  bool text_is_missing() const;
  bool may_be_no_attribute(const Message& message) const;

  std::vector<Message> list_;
  std::size_t not_held_ = 0;
  bool error_not_held_ = false;
  Message last_not_held_{};
  std::size_t accounted_ = 0;  // errors of which it is known what they hide
  std::vector<Span> unread_;
  struct ReadOn {
    std::uint32_t end = 0;
    bool first_doubtful = false;
  };
  std::map<std::pair<std::uint32_t, std::uint32_t>, ReadOn> read_on_;  // by file and begin
};

/// The message's text with its arguments put in (arguments made safe for a terminal).
std::string message_text(const Message& message);
/// Words in lines of 80 columns, the first indented by `first`, the others by six. A word longer than a line
/// stays whole. Ends in a newline.
std::string wrapped(std::string_view text, std::size_t first);
/// "file:line:column: error: text [code]", the source line with a caret run, labels, hint. Ends in a newline.
std::string render(const Message& message, const Sources& sources);
/// Control characters, escape sequences, bidirectional controls and invalid bytes shown as \xNN or \u{...};
/// tabs as blanks.
std::string printable(std::string_view text);

}  // namespace mm

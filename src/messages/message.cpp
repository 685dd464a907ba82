#include "messages/message.hpp"

#include <fmt/args.h>
#include <fmt/format.h>

#include <algorithm>
#include <tuple>

#include "base/utf8.hpp"

namespace mm {

namespace {

struct CodeRow {
  std::string_view name;
  MessageWeight weight;
  std::string_view text;
};

constexpr CodeRow code_rows[] = {
#define MM_MESSAGE(code, weight, text) {#code, MessageWeight::weight, text},
#include "messages/codes.def"
#undef MM_MESSAGE
};

/// A name of megabytes is told by its beginning.
void shorten(std::string& text) {
  constexpr std::size_t longest = 1000;
  if (text.size() <= longest) return;
  text.replace(last_character(text, longest), std::string::npos, "...");
}

const CodeRow& row(Code code) { return code_rows[static_cast<std::size_t>(code)]; }

}  // namespace

std::string_view code_name(Code code) { return row(code).name; }
MessageWeight weight_of(Code code) { return row(code).weight; }

Message& Messages::add(Code code, Span span, std::vector<std::string> arguments, std::string hint) {
  return hold({code, span, std::move(arguments), {}, std::move(hint)});
}

Message& Messages::hold(Message message) {
  for (std::string& argument : message.arguments) shorten(argument);
  shorten(message.hint);
  if (list_.size() < most_held) return list_.emplace_back(std::move(message));
  ++not_held_;
  error_not_held_ = error_not_held_ || weight_of(message.code) == MessageWeight::error;
  return last_not_held_ = std::move(message);
}

void Messages::add_hints(const std::function<std::string(const Message&)>& hint_of) {
  for (Message& message : list_)
    if (std::string hint = hint_of(message); !hint.empty()) message.hint = std::move(hint);
}

void Messages::drop(const std::function<bool(std::size_t)>& gone) {
  std::size_t kept = 0;
  for (std::size_t i = 0; i < list_.size(); ++i) {
    if (gone(i)) continue;
    if (kept != i) list_[kept] = std::move(list_[i]);
    ++kept;
  }
  list_.erase(list_.begin() + static_cast<std::ptrdiff_t>(kept), list_.end());
}

void Messages::back_to(const Mark& mark) {
  list_.resize(mark.held, Message{});
  unread_.resize(mark.unread);
  not_held_ = mark.not_held;
  accounted_ = mark.accounted;
  error_not_held_ = mark.error_not_held;
}

std::optional<std::uint32_t> Messages::next_read_on(Span line, std::uint32_t from) const {
  auto found = read_on_.lower_bound({line.file.index, from});
  while (found != read_on_.end() && found->second.first_doubtful) ++found;  // the slip may go on
  if (found == read_on_.end() || found->first.first != line.file.index || found->first.second >= line.end)
    return std::nullopt;
  return found->first.second;
}

bool Messages::has_errors() const {
  return error_not_held_ || std::any_of(list_.begin(), list_.end(), [](const Message& m) {
           return weight_of(m.code) == MessageWeight::error;
         });
}

bool Messages::text_is_missing() const {
  return error_not_held_ || std::count_if(list_.begin(), list_.end(), [](const Message& m) {
                              return weight_of(m.code) == MessageWeight::error;
                            }) > static_cast<std::ptrdiff_t>(accounted_);
}

std::vector<Message> Messages::sorted(std::size_t limit, std::size_t* dropped) const {
  std::vector<Message> result = list_;
  auto key = [](const Message& m) {
    return std::tie(m.span.file, m.span.begin, m.span.end, m.code, m.arguments);
  };
  std::stable_sort(result.begin(), result.end(),
                   [&](const auto& a, const auto& b) { return key(a) < key(b); });
  result.erase(std::unique(result.begin(), result.end(),
                           [&](const auto& a, const auto& b) { return key(a) == key(b); }),
               result.end());
  const std::size_t over = result.size() > limit ? result.size() - limit : 0;
  if (dropped != nullptr) *dropped = over + not_held_;
  result.resize(result.size() - over);
  return result;
}

std::string message_text(const Message& message) {
  fmt::dynamic_format_arg_store<fmt::format_context> arguments;
  for (const auto& argument : message.arguments) arguments.push_back(printable(argument));
  return fmt::vformat(row(message.code).text, arguments);
}

}  // namespace mm

// How a message is shown: one line to click on, the source line, a caret run, then labels and hint.
#include <fmt/format.h>

#include <algorithm>

#include "base/display_width.hpp"
#include "base/utf8.hpp"
#include "messages/message.hpp"

namespace mm {

namespace {

constexpr std::size_t page_width = 80;
constexpr std::size_t shown_width = page_width - 8;  // of a source line, behind its number
constexpr std::size_t shown_before = 40;             // of it, before the place

/// How long what stands at the beginning of a printable text is: a character, or one that is spelled out.
std::size_t front_length(std::string_view text) {
  if (text.starts_with("\\x") && text.size() >= 4) return 4;
  if (text.starts_with("\\u{")) {
    const std::size_t close = text.substr(0, 12).find('}');
    if (close != std::string_view::npos) return close + 1;
  }
  return front_glyph(text).bytes;
}

/// The first or the last characters of a printable text that take at most so much room.
std::string_view first_of(std::string_view text, std::size_t wanted) {
  std::size_t end = 0;
  for (std::size_t room = 0; end < text.size();) {
    const std::size_t length = front_length(text.substr(end));
    room += display_width(text.substr(end, length));
    if (room > wanted) break;
    end += length;
  }
  return text.substr(0, end);
}

std::string_view last_of(std::string_view text, std::size_t wanted) {
  for (std::size_t room = display_width(text); room > wanted;) {
    const std::size_t length = front_length(text);
    room -= display_width(text.substr(0, length));
    text.remove_prefix(length);
  }
  return text;
}

std::string where(Span span, const Sources& sources) {
  if (!span.file) return "matchmark";
  const Place place = sources.place(span);
  return fmt::format("{}:{}:{}", printable(sources[span.file].path), place.line, place.column);
}

/// The part of the line round the span, so that a line of megabytes shows as one of the page.
std::string excerpt(Span span, const Sources& sources) {
  const std::string_view line = sources.line_of(span);
  const auto offset = static_cast<std::size_t>(sources[span.file].bytes.data() + span.begin - line.data());
  if (offset > line.size()) return {};
  std::size_t begin = display_width(line.substr(0, std::min(line.size(), 4 * shown_width))) <= shown_width &&
                              line.size() <= 4 * shown_width
                          ? 0
                      : offset > shown_before ? offset - shown_before
                                              : 0;
  begin = last_character(line, begin);
  std::size_t end = std::min(line.size(), begin + shown_width);
  if (begin == 0 && line.size() <= 4 * shown_width && display_width(line) <= shown_width) end = line.size();
  end = next_character(line, end);
  const std::size_t marked_end = std::clamp<std::size_t>(offset + (span.end - span.begin), offset, end);
  const std::string all_before = printable(line.substr(begin, offset - begin)),
                    all_marked = printable(line.substr(offset, marked_end - offset)),
                    all_after = printable(line.substr(marked_end, end - marked_end));
  // what is spelled out, as in a file that is no text, takes more room than it took in the line
  const bool all_fit =
      display_width(all_before) + display_width(all_marked) + display_width(all_after) <= shown_width;
  const std::string_view before = all_fit ? all_before : last_of(all_before, shown_before);
  const std::string_view marked = first_of(all_marked, shown_width - display_width(before));
  const std::string_view after =
      first_of(all_after, shown_width - display_width(before) - display_width(marked));
  const std::string number = std::to_string(sources.place(span).line);
  return fmt::format("{:>5} | {}{}{}\n      | {}{}\n", number, before, marked, after,
                     std::string(display_width(before), ' '),
                     std::string(std::max<std::size_t>(1, display_width(marked)), '^'));
}

/// "the same at 2 more places (line:column): 3:5, 4:7; in b.rules 1:2".
std::string other_places(const Message& message, const Sources& sources) {
  constexpr std::size_t most_listed = 200;
  std::string out = fmt::format("the same at {} more places (line:column):", message.same_at.size());
  FileId file = message.span.file;
  for (std::size_t i = 0; i < std::min(most_listed, message.same_at.size()); ++i) {
    const Span at = message.same_at[i];
    const auto place = sources.place(at);
    if (at.file != file) out += fmt::format("{} in {}:", i == 0 ? "" : ";", printable(sources[at.file].path));
    out += fmt::format("{} {}:{}", i == 0 || at.file != file ? "" : ",", place.line, place.column);
    file = at.file;
  }
  if (message.same_at.size() > most_listed) out += ", ...";
  return out;
}

}  // namespace

std::string wrapped(std::string_view text, std::size_t first) {
  std::string out(first, ' ');
  std::size_t column = first;
  bool empty = true;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find(' '), text.size());
    const std::string_view word = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
    if (!empty && column + 1 + display_width(word) > page_width) {
      out += "\n      ";
      column = 6;
    } else if (!empty) {
      out += ' ';
      ++column;
    }
    out += word;
    column += display_width(word);
    empty = false;
  }
  return out + '\n';
}

std::string render(const Message& message, const Sources& sources) {
  const char* kind = weight_of(message.code) == MessageWeight::error ? "error" : "warning";
  std::string out = wrapped(fmt::format("{}: {}: {} [{}]", where(message.span, sources), kind,
                                        message_text(message), code_name(message.code)),
                            0);
  if (message.span.file) out += excerpt(message.span, sources);
  for (const auto& label : message.labels)
    out += wrapped(fmt::format("{}: {}", where(label.span, sources), printable(label.text)), 6);
  if (!message.hint.empty()) out += wrapped(printable(message.hint), 6);
  if (!message.same_at.empty()) out += wrapped(other_places(message, sources), 6);
  return out;
}

}  // namespace mm

// What a message shows of its line: nothing of it steers, and no sign that is spelled out is cut in two.
#include <doctest/doctest.h>

#include <string>

#include "base/display_width.hpp"
#include "messages/message.hpp"

namespace {

std::size_t count_of(const std::string& text, const std::string& part) {
  std::size_t count = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++count;
  return count;
}

}  // namespace

TEST_CASE("signs that hide are spelled out: the first and the last of each range, and none beside it") {
  for (const auto& [sign, shown] : {std::pair<const char*, const char*>{"\u034F", "\\u{34F}"},
                                    {"\u0600", "\\u{600}"},
                                    {"\u0605", "\\u{605}"},
                                    {"\u115F", "\\u{115F}"},
                                    {"\u1160", "\\u{1160}"},
                                    {"\u17B5", "\\u{17B5}"},
                                    {"\u180B", "\\u{180B}"},
                                    {"\u180F", "\\u{180F}"},
                                    {"\u2800", "\\u{2800}"},
                                    {"\u3164", "\\u{3164}"},
                                    {"\uFDD0", "\\u{FDD0}"},
                                    {"\uFE0F", "\\u{FE0F}"},
                                    {"\uFFA0", "\\u{FFA0}"},
                                    {"\uFFFE", "\\u{FFFE}"},
                                    {"\U0001D173", "\\u{1D173}"},
                                    {"\U0001BCA3", "\\u{1BCA3}"},
                                    {"\U000E01EF", "\\u{E01EF}"},
                                    {"\U0010FFFF", "\\u{10FFFF}"}})
    CHECK(mm::printable(sign) == shown);
  // surrogates, overlong forms, beyond U+10FFFF, cut short: no characters at all
  for (const auto& [bytes, shown] : {std::pair{"\xED\xA0\x80", R"(\xED\xA0\x80)"},
                                     {"\xE0\x81\x81", R"(\xE0\x81\x81)"},
                                     {"\xF0\x80\x81\x81", R"(\xF0\x80\x81\x81)"},
                                     {"\xF4\x90\x80\x80", R"(\xF4\x90\x80\x80)"},
                                     {"\xE2\x82", R"(\xE2\x82)"},
                                     {"\xC1\x81", R"(\xC1\x81)"}})
    CHECK(mm::printable(bytes) == shown);
  for (const char* plain : {"\u034E", "\u0606", "\u115E", "\u1161", "\u180A", "\u1810", "\u27FF", "\u2801",
                            "\uFDF0", "\uFE10", "\uFFFD", "\U0001D17B", "\U0001BCA4", "\u00E9", "\u2300"})
    CHECK(mm::printable(plain) == plain);
}

TEST_CASE("an excerpt holds whole escapes only, wherever the line is cut") {
  for (std::size_t before = 0; before < 120; ++before) {
    mm::Sources sources;
    std::string line(before, 'a');
    const auto at = static_cast<std::uint32_t>(line.size());
    for (int i = 0; i < 20; ++i) line += "\u202Eb\x1B";
    line += std::string(200, 'c');
    const mm::FileId file = sources.add({"f", line});
    mm::Messages messages;
    messages.add(mm::Code::unknown_unit, {file, at, at + 3}, {"x"});
    messages.add(mm::Code::unknown_unit, {file, at + 25, at + 60}, {"x"});
    for (const mm::Message& message : messages.all()) {
      const std::string shown = mm::render(message, sources);
      CHECK(count_of(shown, "\\") == count_of(shown, "\\u{202E}") + count_of(shown, "\\x1B"));
      CHECK(count_of(shown, "}") == count_of(shown, "\\u{202E}"));
    }
  }
}

TEST_CASE("the column of a place far out on a long line counts characters") {
  mm::Sources sources;
  std::string text = "first\n";
  for (int i = 0; i < 10'000; ++i) text += "\u00E9";
  const auto end = static_cast<std::uint32_t>(text.size());
  text += "x\nlast";
  const mm::FileId file = sources.add({"f", text});
  CHECK(sources.place({file, end, end}).line == 2);
  CHECK(sources.place({file, end, end}).column == 10'001);
  CHECK(sources.place({file, end + 4, end + 4}).line == 3);
  CHECK(sources.place({file, end + 4, end + 4}).column == 3);
  CHECK(sources.line_of({file, end + 4, end + 4}) == "last");
  CHECK(sources.line_of({file, 2, 2}) == "first");
  const auto size = static_cast<std::uint32_t>(text.size());
  CHECK(sources.place({file, size, size}).column == 5);
}

TEST_CASE(
    "wide letters take two columns: no line runs over the page, and the mark stands below what it marks") {
  mm::Sources sources;
  std::string wheel = "\u8ECA\u8F2A", line = "a " + wheel + " b";
  const mm::FileId file = sources.add({"f", line});
  mm::Messages messages;
  messages.add(mm::Code::unknown_unit, {file, 2, 8}, {"x"});
  std::string hint = wheel;
  for (int i = 0; i < 40; ++i) hint += " " + wheel;
  messages.add(mm::Code::unknown_unit, {file, 9, 10}, {"x"}, hint);
  const std::string first = mm::render(messages.all()[0], sources),
                    second = mm::render(messages.all()[1], sources);
  CHECK(first.find("\n      |   ^^^^\n") != std::string::npos);
  CHECK(second.find("\n      |        ^\n") != std::string::npos);
  for (std::size_t at = 0; at < second.size();) {
    const std::size_t end = second.find('\n', at);
    CHECK(mm::display_width(second.substr(at, end - at)) <= 80);
    at = end + 1;
  }
}

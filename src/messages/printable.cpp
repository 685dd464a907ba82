// Nothing from a file may steer a terminal: control characters and bidirectional overrides are spelled out.
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "base/utf8.hpp"
#include "messages/message.hpp"

namespace mm {

namespace {

struct Range {
  char32_t first, last;
};

/// Ascending. What Unicode calls control, format and default ignorable characters, blank letters, and those
/// that are none: they turn the line round, hide, or hide what follows.
constexpr auto hidden = std::to_array<Range>({
    {0x0, 0x1F},        {0x7F, 0x9F},       {0xAD, 0xAD},       {0x34F, 0x34F},     {0x600, 0x605},
    {0x61C, 0x61C},     {0x6DD, 0x6DD},     {0x70F, 0x70F},     {0x890, 0x891},     {0x8E2, 0x8E2},
    {0x115F, 0x1160},   {0x17B4, 0x17B5},   {0x180B, 0x180F},   {0x200B, 0x200F},   {0x2028, 0x202E},
    {0x2060, 0x206F},   {0x2800, 0x2800},   {0x3164, 0x3164},   {0xFDD0, 0xFDEF},   {0xFE00, 0xFE0F},
    {0xFEFF, 0xFEFF},   {0xFFA0, 0xFFA0},   {0xFFF0, 0xFFFB},   {0x110BD, 0x110BD}, {0x110CD, 0x110CD},
    {0x13430, 0x1343F}, {0x1BCA0, 0x1BCA3}, {0x1D173, 0x1D17A}, {0xE0000, 0xE0FFF},
});

bool steers(char32_t c) {
  if ((c & 0xFFFEU) == 0xFFFEU) return true;  // the last two of each plane are no characters
  const auto* range = std::lower_bound(hidden.begin(), hidden.end(), c,
                                       [](const Range& r, char32_t x) { return r.last < x; });
  return range != hidden.end() && range->first <= c;
}

}  // namespace

std::string printable(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  while (!text.empty()) {
    const auto plain = static_cast<std::size_t>(
        std::find_if_not(text.begin(), text.end(), [](char c) { return c >= 0x20 && c < 0x7F; }) -
        text.begin());
    out.append(text, 0, plain);
    text.remove_prefix(plain);
    if (text.empty()) break;
    const Utf8Character next = front_character(text);
    if (next.length == 0) {
      out += fmt::format("\\x{:02X}", static_cast<unsigned char>(text[0]));
      text.remove_prefix(1);
      continue;
    }
    if (next.code == '\t') {
      out += ' ';
    } else if (steers(next.code)) {
      out += next.code < 0x80 ? fmt::format("\\x{:02X}", static_cast<unsigned>(next.code))
                              : fmt::format("\\u{{{:X}}}", static_cast<unsigned>(next.code));
    } else {
      out += text.substr(0, next.length);
    }
    text.remove_prefix(next.length);
  }
  return out;
}

}  // namespace mm

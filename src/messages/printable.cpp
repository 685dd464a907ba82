// Nothing from a file may steer a terminal: control characters and bidirectional overrides are spelled out.
#include <fmt/format.h>

#include <algorithm>

#include "messages/message.hpp"

namespace mm {

namespace {

struct Decoded {
  char32_t code = 0;
  std::size_t length = 0;  // 0: not valid UTF-8 here
};

Decoded decode(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned char first = byte(0);
  if (first < 0x80) return {first, 1};
  const std::size_t length = first >= 0xF0 && first < 0xF5 ? 4 : first >= 0xE0 ? 3 : first >= 0xC2 ? 2 : 0;
  if (length == 0 || first >= 0xF5 || text.size() < length) return {};
  char32_t code = first & (0xFFU >> (length + 1));
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte(i) & 0xC0U) != 0x80U) return {};
    code = (code << 6U) | (byte(i) & 0x3FU);
  }
  return {code, length};
}

/// Controls, and what Unicode calls format characters: they turn the line round, hide, or hide what follows.
bool steers(char32_t c) {
  return c < 0x20 || (c >= 0x7F && c < 0xA0) || c == 0xAD || c == 0x061C || c == 0x180E ||
         (c >= 0x200B && c <= 0x200F) || (c >= 0x2028 && c <= 0x202E) || (c >= 0x2060 && c <= 0x206F) ||
         c == 0xFEFF || (c >= 0xFFF9 && c <= 0xFFFB) || (c >= 0xE0000 && c <= 0xE007F);
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
    const Decoded next = decode(text);
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

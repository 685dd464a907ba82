#include "base/display_width.hpp"

#include <algorithm>

#include "base/utf8.hpp"

namespace mm {

namespace {

std::size_t columns(char32_t c) {
  if ((c >= 0x300 && c <= 0x36F) || (c >= 0x20D0 && c <= 0x20FF) || (c >= 0xFE00 && c <= 0xFE0F)) return 0;
  const bool wide =
      (c >= 0x1100 && c <= 0x115F) || (c >= 0x2E80 && c <= 0xA4CF) || (c >= 0xAC00 && c <= 0xD7A3) ||
      (c >= 0xF900 && c <= 0xFAFF) || (c >= 0xFE30 && c <= 0xFE6F) || (c >= 0xFF00 && c <= 0xFF60) ||
      (c >= 0xFFE0 && c <= 0xFFE6) || (c >= 0x1F300 && c <= 0x1FAFF) || (c >= 0x20000 && c <= 0x3FFFD);
  return wide ? 2 : 1;
}

}  // namespace

Glyph front_glyph(std::string_view text) {
  const Utf8Character front = front_character(text);
  return front.length == 0 ? Glyph{1, 1} : Glyph{front.length, columns(front.code)};
}

std::size_t display_width(std::string_view text) {
  const bool plain = std::all_of(text.begin(), text.end(), [](char c) { return c >= 0x20 && c < 0x7F; });
  if (plain) return text.size();
  std::size_t width = 0;
  while (!text.empty()) {
    const Glyph glyph = front_glyph(text);
    width += glyph.columns;
    text.remove_prefix(glyph.bytes);
  }
  return width;
}

}  // namespace mm

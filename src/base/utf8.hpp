// UTF-8, as the standard has it (RFC 3629): no overlong forms, no surrogates, nothing above U+10FFFF.
#pragma once
#include <algorithm>
#include <cstddef>
#include <string_view>

namespace mm {

struct Utf8Character {
  char32_t code = 0;
  std::size_t length = 0;  // in bytes; 0: no valid character begins here
};

/// A byte of a character, not its first.
constexpr bool continues_character(char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; }

/// What a text that is not empty begins with.
constexpr Utf8Character front_character(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned char first = byte(0);
  if (first < 0x80) return {first, 1};
  const std::size_t length = first < 0xC2 || first > 0xF4 ? 0 : first < 0xE0 ? 2 : first < 0xF0 ? 3 : 4;
  if (length == 0 || text.size() < length) return {};
  char32_t code = first & (0xFFU >> (length + 1));
  for (std::size_t i = 1; i < length; ++i) {
    if (!continues_character(text[i])) return {};
    code = (code << 6U) | (byte(i) & 0x3FU);
  }
  const bool overlong = (length == 3 && code < 0x800) || (length == 4 && code < 0x10000);
  if (overlong || (code >= 0xD800 && code <= 0xDFFF) || code > 0x10FFFF) return {};
  return {code, length};
}

/// From a place in a valid text on, or back, the next at which a character begins or the text ends.
constexpr std::size_t next_character(std::string_view text, std::size_t at) {
  while (at < text.size() && continues_character(text[at])) ++at;
  return at;
}
constexpr std::size_t last_character(std::string_view text, std::size_t at) {
  while (at > 0 && at < text.size() && continues_character(text[at])) --at;
  return at;
}

/// How many there are in a valid text.
constexpr std::size_t characters_in(std::string_view text) {
  return static_cast<std::size_t>(
      std::count_if(text.begin(), text.end(), [](char c) { return !continues_character(c); }));
}

}  // namespace mm

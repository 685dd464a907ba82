// Classes of characters in the text of a file, without regard to any locale.
#pragma once
#include <array>
#include <cstddef>
#include <cstdint>
#include <string_view>

namespace mm {

namespace character_class {

inline constexpr std::uint8_t letter = 1, digit = 2, underscore = 4, blank = 8, line_end = 16;

inline constexpr auto table = [] {
  std::array<std::uint8_t, 256> classes{};
  for (unsigned c = 'a'; c <= 'z'; ++c) classes[c] = letter;
  for (unsigned c = 'A'; c <= 'Z'; ++c) classes[c] = letter;
  for (unsigned c = '0'; c <= '9'; ++c) classes[c] = digit;
  classes['_'] = underscore;
  classes[' '] = classes['\t'] = classes['\r'] = blank;
  classes['\n'] = line_end;
  return classes;
}();

constexpr bool is(char c, unsigned classes) { return (table[static_cast<unsigned char>(c)] & classes) != 0; }

}  // namespace character_class

constexpr bool is_letter(char c) { return character_class::is(c, character_class::letter); }
constexpr bool is_digit(char c) { return character_class::is(c, character_class::digit); }
constexpr bool is_in_word(char c) {
  return character_class::is(c,
                             character_class::letter | character_class::digit | character_class::underscore);
}
constexpr bool is_blank(char c) { return character_class::is(c, character_class::blank); }
/// What may stand between a number and its unit.
constexpr bool is_gap(char c) { return c == ' ' || c == '\t'; }
constexpr bool is_space(char c) {
  return character_class::is(c, character_class::blank | character_class::line_end);
}

/// How many characters from `begin` on, and before `end`, are letters, digits and '_'.
constexpr std::size_t word_length(const char* begin, const char* end) {
  const char* at = begin;
  while (at != end && is_in_word(*at)) ++at;
  return static_cast<std::size_t>(at - begin);
}

/// The letters, digits and '_' that the text begins with.
constexpr std::string_view front_word(std::string_view text) {
  return text.substr(0, word_length(text.data(), text.data() + text.size()));
}

}  // namespace mm

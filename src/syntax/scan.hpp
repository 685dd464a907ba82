// Small scans over raw bytes, for recovery and for wording failures.
#pragma once
#include <algorithm>
#include <string_view>

namespace mm {

inline constexpr std::string_view reserved_words[] = {
    "and", "every",   "for", "has",  "if",   "in",   "mate", "no",    "not",    "of",
    "or",  "part_of", "per", "some", "then", "else", "when", "where", "within", "yes"};

template <typename Words>
bool holds(const Words& words, std::string_view word) {
  return std::find(std::begin(words), std::end(words), word) != std::end(words);
}

inline bool blank(char c) { return c == ' ' || c == '\t' || c == '\r'; }
inline bool letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }
inline bool part_of_word(char c) { return letter(c) || (c >= '0' && c <= '9') || c == '_'; }

inline std::string_view word_at(std::string_view bytes, std::size_t at) {
  std::size_t end = at;
  while (end < bytes.size() && part_of_word(bytes[end])) ++end;
  return bytes.substr(at, end - at);
}

inline std::size_t text_end(std::string_view bytes,
                            std::size_t at) {  // bytes[at] == '"'; past its end, or at the line's end
  for (++at; at < bytes.size() && bytes[at] != '\n'; ++at) {
    if (bytes[at] == '\\' && at + 1 < bytes.size() && bytes[at + 1] != '\n') {
      ++at;
    } else if (bytes[at] == '"') {
      return at + 1;
    }
  }
  return at;
}

/// A quote right behind a digit is somebody's inch mark.
inline bool opens_text(std::string_view bytes, std::size_t at) {
  return bytes[at] == '"' && (at == 0 || bytes[at - 1] < '0' || bytes[at - 1] > '9');
}

inline std::size_t line_end(std::string_view bytes, std::size_t at) {
  return std::min(bytes.find('\n', at), bytes.size());
}

}  // namespace mm

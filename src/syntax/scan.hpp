// Small scans over raw bytes, for recovery and for wording failures.
#pragma once
#include <algorithm>
#include <string_view>

#include "base/characters.hpp"

namespace mm {

inline constexpr std::string_view reserved_words[] = {
    "and", "every",   "for", "has",  "if",   "in",   "mate", "no",    "not",    "of",
    "or",  "part_of", "per", "some", "then", "else", "when", "where", "within", "yes"};
inline constexpr std::string_view weight_words[] = {"need", "should", "caution", "also"};

template <typename Words>
bool holds(const Words& words, std::string_view word) {
  return std::find(std::begin(words), std::end(words), word) != std::end(words);
}

inline std::string_view word_at(std::string_view bytes, std::size_t at) {
  return front_word(bytes.substr(at));
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

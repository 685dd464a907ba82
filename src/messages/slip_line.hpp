// A line of text as slips are looked for in it: numbers, units, words and characters at a place. Seen by
// slip_*.cpp.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "messages/slips.hpp"

namespace mm {

inline bool is_digit(char c) { return c >= '0' && c <= '9'; }
inline bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }
inline bool is_word_part(char c) { return is_digit(c) || is_letter(c) || c == '_'; }

/// Valid UTF-8. Every place may be asked for, also beyond the end.
class LineReader {
 public:
  explicit LineReader(std::string_view line) : line_(line) {}

  std::string_view line() const { return line_; }
  char peek(std::size_t i) const { return i < line_.size() ? line_[i] : '\0'; }
  bool starts(std::size_t i, std::string_view text) const {
    return i <= line_.size() && line_.substr(i).starts_with(text);
  }
  std::string cut(std::size_t begin, std::size_t end) const {
    return std::string(line_.substr(begin, end - begin));
  }
  std::size_t blanks(std::size_t i) const {  // behind them
    while (peek(i) == ' ' || peek(i) == '\t') ++i;
    return i;
  }
  std::size_t digits(std::size_t i) const {  // behind them
    while (is_digit(peek(i))) ++i;
    return i;
  }
  std::string_view word(std::size_t i) const {
    std::size_t end = i;
    while (is_word_part(peek(end))) ++end;
    return line_.substr(std::min(i, line_.size()), end - i);
  }
  char before(std::size_t i) const {  // the last that is no blank
    while (i > 0 && (line_[i - 1] == ' ' || line_[i - 1] == '\t')) --i;
    return i == 0 ? '\0' : line_[i - 1];
  }
  /// A quote before `at` stands before a word, as in 'first 5'.
  bool may_close(char quote, std::size_t at) const {
    const std::string_view head = line_.substr(0, at);
    for (std::size_t i = head.find(quote); i < head.size(); i = head.find(quote, i + 1))
      if (i == 0 || head[i - 1] == ' ') return true;
    return false;
  }

  struct Glyph {
    char32_t code = 0;
    std::size_t size = 0;  // in bytes; 0 at the end
  };
  Glyph glyph(std::size_t i) const;
  /// Behind 12  0.43  .5  3/8  1 1/4; `begin` where there is none.
  std::size_t number(std::size_t begin) const;
  /// Behind the unit at i, which may stand behind blanks; i where there is none.
  std::size_t unit(std::size_t i) const;

 private:
  std::string_view line_;
};

/// What is wrong with the number [at, end) and what stands right behind it.
std::optional<Slip> slip_at_number(const LineReader& line, std::size_t at, std::size_t end);
/// The next statement's name, taken for the unit of the number [at, end).
std::optional<Slip> name_as_unit(const LineReader& line, std::size_t at, std::size_t end);
/// The operator `in` behind the number [at, end), taken for its unit.
std::optional<Slip> in_as_inches(const LineReader& line, std::size_t at, std::size_t end);
/// What is right by itself, but not as a part's value: 257 mm or 258 mm, 257 mm (measured), 257 mm +-0.1
/// -0.2.
std::optional<Slip> slip_in_value(const LineReader& line, std::size_t at, std::size_t end);
/// A size that wants quotes begins at `at`: 6PK1195  M10x1.0  185/65R15  3/8-24 UNF.
std::optional<Slip> unquoted_size(const LineReader& line, std::size_t at);

}  // namespace mm

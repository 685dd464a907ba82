// What stands where a part's value should, and is none: two values, limits behind +-, a fraction without its
// unit, a note in brackets, a word that counts pieces, a size without its quotes.
#include <algorithm>
#include <cstdlib>

#include "messages/slip_line.hpp"
#include "messages/slip_words.hpp"

namespace mm {

namespace {

class InValue {
 public:
  InValue(const LineReader& line, std::size_t at, std::size_t end)
      : line_(line), at_(at), end_(end), unit_end_(line.unit(end)), next_(line.blanks(unit_end_)) {}

  std::optional<Slip> slip() const {
    if (auto found = limits()) return found;
    if (auto found = bare_fraction()) return found;
    if (auto found = parted_fraction()) return found;
    if (auto found = second_value()) return found;
    if (auto found = second_unit()) return found;
    if (auto found = ratio()) return found;
    if (auto found = note_in_brackets()) return found;
    return pieces();
  }

 private:
  std::string value() const { return line_.cut(at_, unit_end_); }

  /// 257 mm +-0.1 -0.2  257 mm +-0.1/0.2
  std::optional<Slip> limits() const {
    const bool sign = line_.starts(next_, "+-") || line_.starts(next_, "\u00B1");
    const std::size_t high = line_.blanks(next_ + 2), high_end = line_.unit(line_.number(high));
    const std::size_t between = line_.blanks(high_end);
    const bool slash = line_.peek(between) == '/';
    if (!sign || line_.number(high) == high || (!slash && line_.peek(between) != '-')) return {};
    std::size_t low = line_.blanks(between + 1);
    if (slash && line_.peek(low) == '-') low = line_.blanks(low + 1);
    const std::size_t low_end = line_.number(low);
    if (low_end == low) return {};
    const std::size_t behind = line_.unit(low_end);
    return Slip{at_, behind,
                "write " + value() + " +" + line_.cut(high, high_end) + " -" + line_.cut(low, behind), false};
  }

  /// 4 1/4
  std::optional<Slip> bare_fraction() const {
    const std::string text = line_.cut(at_, end_);
    const std::size_t blank = text.find_first_of(" \t");
    const bool marked = !right_for(length_marks, line_.glyph(end_).code).empty();  // 4 1/4"
    if (blank == std::string::npos || unit_end_ != end_ || marked) return {};
    Slip slip{at_, end_, "a fraction behind a number stands before its unit, as 4 1/4 in", false};
    slip.by_dimension.emplace_back("length", "write " + text + " in");
    return slip;
  }

  /// 10 in 1/8
  std::optional<Slip> parted_fraction() const {
    const std::size_t slash = line_.digits(next_), behind = line_.digits(slash + 1);
    const std::string_view unit = line_.word(line_.blanks(end_));
    if (line_.digits(at_) != end_ || (unit != "in" && unit != "ft") || slash == next_ ||
        line_.peek(slash) != '/' || behind == slash + 1 || line_.unit(behind) != behind)
      return {};
    return Slip{at_, behind,
                "write " + line_.cut(at_, end_) + " " + line_.cut(next_, behind) + line_.cut(end_, unit_end_),
                false, next_};
  }

  /// 257 mm or 258 mm
  std::optional<Slip> second_value() const {
    const std::size_t second = line_.blanks(next_ + 2);
    if (line_.word(next_) != "or" || line_.number(second) == second) return {};
    return Slip{at_, line_.unit(line_.number(second)),
                "write a range, as 257..258 mm; or state each value, with \"per\" and how it is known", false,
                next_};
  }

  /// 5 ft 6 in  5 ft 6 1/2 in  2 lb 3 oz
  std::optional<Slip> second_unit() const {
    const std::size_t low_end = line_.number(next_), behind = line_.unit(low_end);
    if (unit_end_ == end_ || low_end == next_ || behind == low_end) return {};
    const std::string_view unit = line_.word(line_.blanks(end_)),
                           low_unit = line_.word(line_.blanks(low_end));
    const auto together = std::pair(unit, low_unit);
    if (std::find(units_together.begin(), units_together.end(), together) == units_together.end()) return {};
    Slip slip{at_, behind, "a value is written in one unit, as 66 in for 5 ft 6 in", false, next_};
    const std::size_t whole_end = line_.digits(next_);
    const bool whole = whole_end > next_ && (line_.peek(whole_end) == ' ' || whole_end == low_end);
    const std::size_t digits = end_ - at_ + whole_end - next_;
    if (unit == "ft" && low_unit == "in" && line_.digits(at_) == end_ && whole && digits <= 8)
      slip.hint = "write " + std::to_string(12 * number(at_, end_) + number(next_, whole_end)) +
                  line_.cut(whole_end, behind);
    return slip;
  }

  /// 3.73:1  41:11
  std::optional<Slip> ratio() const {
    const std::size_t colon = line_.blanks(end_), second = line_.blanks(colon + 1);
    const std::size_t behind = line_.number(second);
    if (line_.peek(colon) != ':' || behind == second) return {};
    const bool to_one = line_.cut(second, behind) == "1";
    return Slip{at_, behind,
                "a ratio is one number: write " + line_.cut(at_, end_) +
                    (to_one ? std::string() : "/" + line_.cut(second, behind)),
                false, colon};
  }

  unsigned long number(std::size_t begin, std::size_t end) const {
    return std::strtoul(line_.cut(begin, end).c_str(), nullptr, 10);
  }

  /// 257 mm (measured)
  std::optional<Slip> note_in_brackets() const {
    if (line_.peek(next_) != '(') return {};
    const std::size_t close = line_.line().find(')', next_);
    const std::size_t behind = std::min(close, line_.line().size() - 1) + 1;
    const std::string_view word = line_.word(line_.blanks(next_ + 1));
    const bool alone =
        close != std::string_view::npos && line_.blanks(line_.blanks(next_ + 1) + word.size()) == close;
    const std::string how = alone && is_grade(word) ? std::string(word) : "measured \"vernier\"";
    return Slip{at_, behind, "how a value is known stands behind per: " + value() + " per " + how, false,
                next_};
  }

  /// 2 off  4 pcs
  std::optional<Slip> pieces() const {
    const std::string_view word = line_.word(line_.blanks(end_));
    if (line_.digits(at_) != end_ ||
        std::find(count_words.begin(), count_words.end(), word) == count_words.end())
      return {};
    const std::size_t behind = line_.blanks(end_) + word.size();
    Slip slip{at_, behind, "a count stands without a unit: write " + line_.cut(at_, end_), false};
    slip.no_attribute = word;
    return slip;
  }

  const LineReader& line_;
  std::size_t at_, end_, unit_end_, next_;
};

}  // namespace

std::optional<Slip> slip_in_value(const LineReader& line, std::size_t at, std::size_t end) {
  return InValue(line, at, end).slip();
}

std::optional<Slip> unquoted_size(const LineReader& line, std::size_t at) {
  std::size_t end = at;
  int turns = 0;  // from digit to letter or back
  const auto joins = [&](std::size_t i) {
    return std::string_view("./-").find(line.peek(i)) != std::string_view::npos && line.peek(i) != '\0' &&
           is_word_part(line.peek(i + 1));
  };
  while (is_word_part(line.peek(end)) || joins(end)) {
    const char c = line.peek(end), next = line.peek(end + 1);
    if ((is_digit(c) && is_letter(next)) || (is_letter(c) && is_digit(next))) ++turns;
    ++end;
  }
  const std::string run = line.cut(at, end);
  const std::size_t slash = run.find('/'), dash = run.find('-');
  const bool number_first = !run.empty() && is_digit(run[0]);
  const bool inch_thread = number_first && turns == 0 && slash < dash && dash != std::string::npos;
  const bool size =
      turns >= 2 && (number_first || dash != std::string::npos || run.find('.') != std::string::npos);
  const std::size_t letter = std::min(run.find_first_not_of("0123456789."), run.size());
  const bool exponent = number_first && letter < run.size() && (run[letter] == 'e' || run[letter] == 'E') &&
                        run.find_first_not_of("0123456789-", letter + 1) == std::string::npos;  // 1e400
  if (exponent || (!inch_thread && !size)) return {};
  const std::string_view series = line.word(line.blanks(end));
  if (inch_thread && (series == "UNF" || series == "UNC" || series == "BSF" || series == "BSP"))
    end = line.blanks(end) + series.size();
  return Slip{at, end, "a size or text stands in quotes: \"" + line.cut(at, end) + "\"", false};
}

}  // namespace mm

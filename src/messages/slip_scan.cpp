// One pass over a line, past texts and comments: at numbers, words and signs.
#include <algorithm>
#include <array>

#include "base/near_miss.hpp"
#include "base/unit_names.hpp"
#include "messages/slip_line.hpp"
#include "messages/slip_words.hpp"

namespace mm {

namespace {

constexpr std::array<std::string_view, 12> naming = {"part",  "fit",   "build",       "kind",
                                                     "place", "stage", "rework",      "interface",
                                                     "rule",  "table", "designation", "group"};

/// Attributes that no file declares.
constexpr std::array<std::string_view, 9> of_every_part = {"price",     "state", "quantity", "hand", "seller",
                                                           "return_by", "tag",   "note",     "place"};

template <typename Words>
bool is_one_of(const Words& words, std::string_view word) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

std::string hex(char32_t code) {
  std::string out;
  for (unsigned shift = 16; shift > 0;) out += "0123456789ABCDEF"[(code >> (shift -= 4)) & 15U];
  return out;
}

class Scanner : LineReader {
 public:
  explicit Scanner(std::string_view line) : LineReader(line) {}

  std::vector<Slip> run() {
    while (at_ < line().size()) step();
    return std::move(out_);
  }

 private:
  bool add(std::optional<Slip> slip) {
    if (!slip) return false;
    at_ = slip->end;
    out_.push_back(std::move(*slip));
    return true;
  }
  bool write(std::size_t end, const std::string& right, bool sure = true) {
    return add(Slip{at_, end, "write " + right, sure});
  }

  void step() {
    const char c = peek(at_);
    const bool in_word = at_ > 0 && is_word_part(peek(at_ - 1));
    if (c == '"') {
      skip_text();
    } else if (c == '#') {
      at_ = line().size();
    } else if (starts(at_, "//") || starts(at_, "/*")) {
      add(Slip{at_, line().size(), "a comment begins with #"});
    } else if (!in_word && (is_digit(c) || (c == '.' && is_digit(peek(at_ + 1))))) {
      at_number();
    } else if (!in_word && is_letter(c)) {
      at_word();
    } else {
      at_sign();
    }
  }

  void skip_text() {
    for (++at_; at_ < line().size() && peek(at_) != '"';) at_ += peek(at_) == '\\' ? 2 : 1;
    at_ = std::min(at_ + 1, line().size());
  }

  void at_number() {
    const std::size_t end = number(at_);
    if (is_one_of(naming, previous_) && digit_first(end)) return;
    if (!is_one_of(naming, previous_) && add(unquoted_size(*this, at_))) return;
    if (!add(slip_at_number(*this, at_, end))) at_ = std::max(end, unit(end));
    previous_ = {};
  }

  /// part 15inch is k
  bool digit_first(std::size_t number_end) {
    const std::size_t end = number_end + word(number_end).size();
    if (end == number_end) return false;
    return add(Slip{at_, end, "a name begins with a letter and goes on with letters, digits and _", false});
  }

  void at_word() {
    if (!is_one_of(naming, previous_) && add(unquoted_size(*this, at_))) return;
    if (row() || bound() || by() || note()) return;
    previous_ = word(at_);
    at_ += previous_.size();
  }

  /// row 10 mm: 10.5 mm
  bool row() {
    if (word(at_) != "row") return false;
    const std::size_t first = blanks(at_ + 3), end = number(first), colon = blanks(unit(end));
    if (end == first || peek(colon) != ':') return false;
    const std::size_t next = blanks(colon + 1), behind = number(next);
    const std::string cells = cut(first, end) + (behind == next ? "" : " " + cut(next, behind));
    return add(Slip{at_, behind == next ? colon + 1 : unit(behind),
                    "a row is its cells alone, separated by blanks: " + cells, false});
  }

  /// 3 mm by measured
  bool by() {
    if (word(at_) != "by" || previous_ == "planned" || previous_ == "done") return false;
    const std::string_view grade = word(blanks(at_ + 2));
    if (!is_grade(grade)) return false;
    Slip slip{at_, blanks(at_ + 2) + grade.size(), "write per " + std::string(grade), false};
    slip.no_attribute = "by";
    return add(std::move(slip));
  }

  /// max 35 mm  min. 35 mm  at least 35 mm  ca. 35 mm
  bool bound() {
    for (const auto& [seen, right] : bounds) {
      if (!starts(at_, seen) || is_word_part(peek(at_ + seen.size()))) continue;
      const std::size_t i = number_behind(at_ + seen.size());
      if (i == 0) continue;
      const std::size_t behind = unit(number(i));
      Slip slip{at_, behind, "write " + std::string(right) + " " + cut(i, behind), false};
      if (seen.find(' ') == std::string_view::npos) slip.no_attribute = seen;
      return add(std::move(slip));
    }
    const std::string_view name = word(at_);
    const std::size_t i = number_behind(at_ + name.size());
    if (i == 0 ||
        (name != "ca" && name != "circa" && name != "about" && name != "approx" && name != "roughly"))
      return false;
    return add(Slip{at_, unit(number(i)), "say how far it may be off, as 35 mm +- 1 mm", false});
  }

  /// Where the number begins that stands behind this, and perhaps a point; 0: none does.
  std::size_t number_behind(std::size_t i) const {
    i = blanks(peek(i) == '.' ? i + 1 : i);
    return number(i) == i ? 0 : i;
  }

  /// No value stands there: the line or block ends, or a plain word follows.
  bool no_value_at(std::size_t i) {
    i = blanks(i);
    if (is_letter(peek(i))) return word(i).find_first_of("_0123456789") == std::string_view::npos;
    return std::string_view("\n\r};,#").find(peek(i)) != std::string_view::npos || peek(i) == '\0';
  }

  bool stands_behind_a_value() {
    std::size_t end = at_;
    while (end > 0 && (peek(end - 1) == ' ' || peek(end - 1) == '\t')) --end;
    std::size_t begin = end;
    while (begin > 0 && is_word_part(peek(begin - 1))) --begin;
    const std::string_view token = word(begin);
    return before(at_) == '"' || (!token.empty() && (is_digit(token.front()) || is_builtin_unit_name(token)));
  }

  /// per measured vernier; measured "vernier"; 5 mm measured
  bool note() {
    const std::string_view name = word(at_);
    if (!is_grade(name)) return previous_ == "per" && misspelt_grade(name);
    const std::size_t behind = blanks(at_ + name.size());
    if (previous_ != "per") {
      if (peek(behind) == '"') return write(at_ + name.size(), "per " + std::string(name), false);
      if (!stands_behind_a_value() || number(behind) != behind) return false;
      Slip slip{at_, at_ + name.size(), "write per " + std::string(name), false};
      slip.no_attribute = name;
      slip.hides_one = true;
      return add(std::move(slip));
    }
    if (!is_letter(peek(behind))) return false;
    const std::string text(word(behind));
    const std::size_t next = behind + text.size();
    if (peek(next) == '.' && is_letter(peek(next + 1))) return false;  // the next attribute: mt.bore 70 mm
    if (!no_value_at(next)) return false;                              // else the next attribute: bore 70 mm
    if (is_one_of(of_every_part, text)) return false;
    at_ = behind;
    Slip slip{at_, at_ + text.size(),
              "a note stands in quotes: per " + std::string(name) + " \"" + text + "\"", false};
    slip.no_attribute = text;
    if (text == "per") slip.hint = "how a value is known is said once; leave the second \"per\" out";
    return add(std::move(slip));
  }

  /// per mesured
  bool misspelt_grade(std::string_view name) {
    const std::string near = nearest_name(name, grades);
    if (near.empty()) return false;
    Slip slip{at_, at_ + name.size(), "did you mean " + near + "?"};
    slip.alone = true;
    return add(std::move(slip));
  }

  void at_sign() {
    const auto [code, size] = glyph(at_);
    const std::size_t behind = blanks(at_ + size), end = number(behind);
    for (const auto& [seen, right] : other_operators)
      if (starts(at_, seen)) {
        write(at_ + seen.size(), std::string(right));
        return;
      }
    if (starts(at_, "+/-") || starts(at_, "-/+")) {
      write(at_ + 3, "+-");
    } else if (starts(at_, "+/\u2212") || starts(at_, "+/\u2013")) {
      write(at_ + 5, "+-");
    } else if (is_odd_blank(code)) {
      add(Slip{at_, at_ + size, "write a plain blank", true, {}, "a blank of another sort, U+" + hex(code)});
    } else if (const auto fraction = right_for(fraction_signs, code); !fraction.empty()) {
      write(at_ + size, std::string(fraction));
    } else if (is_diameter_sign(code) && end != behind) {
      add(Slip{at_, at_ + size, "leave the " + cut(at_, at_ + size) + " out"});
    } else if (code >= 0x201C && code <= 0x201E) {
      typographic_quotes(size);
    } else if (const auto money = right_for(money_signs, code); !money.empty() && end != behind) {
      write(end, cut(behind, end) + " " + std::string(money));
    } else if ((code == '~' || code == 0x2248) && end != behind) {
      add(Slip{at_, unit(end), "say how far it may be off, as 35 mm +- 1 mm", false});
    } else if ((code == '<' || code == '>') && end != behind) {
      const std::string right = std::string(1, static_cast<char>(code)) + "= " + cut(behind, unit(end));
      add(Slip{at_, unit(end), "write " + right, false, at_});
    } else if (code == 0xD7 && line().substr(0, at_).find("sums of") != std::string_view::npos) {
      write(at_ + size, "x");
    } else if (const auto right = right_for(other_signs, code); !right.empty()) {
      write(at_ + size, std::string(right));
    } else {
      at_ += std::max<std::size_t>(size, 1);
    }
  }

  /// “here”
  void typographic_quotes(std::size_t size) {
    for (std::size_t end = at_ + size; end < line().size();) {
      const auto [code, width] = glyph(end);
      if (code == '"' || (code >= 0x201C && code <= 0x201E)) {
        write(end + width, "\"" + cut(at_ + size, end) + "\"");
        return;
      }
      end += width;
    }
    write(at_ + size, "\"");
  }

  std::size_t at_ = 0;
  std::string_view previous_;  // the word read last
  std::vector<Slip> out_;
};

}  // namespace

std::vector<Slip> slips_of(std::string_view line) { return Scanner(line).run(); }

std::string plain_signs(std::string_view text) {
  const LineReader reader(text);
  std::string out;
  for (std::size_t i = 0; i < text.size();) {
    const auto [code, size] = reader.glyph(i);
    const std::string_view sign = right_for(other_signs, code);
    if (code == ',' && i > 0 && is_digit(text[i - 1]) && is_digit(reader.peek(i + 1)))
      out += '.';
    else if (is_odd_blank(code))
      out += ' ';
    else if (const auto fraction = right_for(fraction_signs, code); !fraction.empty())
      out += fraction;
    else if (sign == "-" || sign == "/")
      out += sign;
    else if (sign == "*")
      out += 'x';
    else
      out += reader.cut(i, i + size);
    i += std::max<std::size_t>(size, 1);
  }
  return out;
}

}  // namespace mm

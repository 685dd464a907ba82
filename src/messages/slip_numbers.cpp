// What people put behind a number and this language writes otherwise.
#include <algorithm>
#include <cstdlib>

#include "base/unit_names.hpp"
#include "base/utf8.hpp"
#include "messages/slip_line.hpp"
#include "messages/slip_words.hpp"

namespace mm {

LineReader::Glyph LineReader::glyph(std::size_t i) const {
  if (i >= line_.size()) return {};
  const Utf8Character here = front_character(line_.substr(i));
  return {here.code, std::max<std::size_t>(here.length, 1)};
}

std::size_t LineReader::number(std::size_t begin) const {
  const std::size_t end = digits(begin);
  if (end == begin) return peek(begin) == '.' && is_digit(peek(begin + 1)) ? digits(begin + 1) : begin;
  if (peek(end) == '.' && is_digit(peek(end + 1))) return digits(end + 1);
  if (peek(end) == '/' && is_digit(peek(end + 1))) return digits(end + 1);
  const std::size_t second = blanks(end), over = digits(second);
  if (second > end && over > second && peek(over) == '/' && is_digit(peek(over + 1))) return digits(over + 1);
  return end;
}

std::size_t LineReader::unit(std::size_t i) const {
  const std::size_t begin = blanks(i);
  if (peek(begin) == '%') return begin + 1;
  const std::string_view name = word(begin);
  if (!is_builtin_unit_name(name)) return i;
  std::size_t end = begin + name.size();
  while (peek(end) == '*' || peek(end) == '/' || peek(end) == '^') {
    const std::size_t next = end + 1 + (peek(end + 1) == '-' ? 1 : 0);
    const std::string_view more = word(next);
    if (more.empty()) break;
    end = next + more.size();
  }
  return end;
}

namespace {

class Number {
 public:
  Number(const LineReader& line, std::size_t at, std::size_t end)
      : line_(line), at_(at), end_(end), text_(line.cut(at, end)) {}

  std::optional<Slip> slip() const {
    if (auto found = date()) return found;
    if (auto found = date_in_words()) return found;
    if (auto found = parted_unit()) return found;
    if (auto found = in_as_inches(line_, at_, end_)) return found;
    if (auto found = slip_in_value(line_, at_, end_)) return found;
    if (auto found = name_as_unit(line_, at_, end_)) return found;
    if (auto found = groups_of_points()) return found;
    if (auto found = grouping()) return found;
    if (auto found = fraction()) return found;
    if (auto found = mark()) return found;
    if (auto found = other_unit()) return found;
    if (auto found = unit_sign()) return found;
    if (auto found = limits()) return found;
    if (auto found = range()) return found;
    return doubt();
  }

 private:
  std::optional<Slip> say(std::size_t end, std::string hint, bool sure = true) const {
    return Slip{at_, end, std::move(hint), sure};
  }
  std::optional<Slip> write(std::size_t end, const std::string& right, bool sure = true) const {
    return say(end, "write " + right, sure);
  }
  std::optional<Slip> write_unit(std::size_t end, std::string_view unit, bool sure = true) const {
    return write(end, text_ + " " + std::string(unit), sure);
  }

  /// 14.03.2026  14/03/2026  2026/03/14  2026-3-14
  std::optional<Slip> date() const {
    const char between = line_.peek(line_.digits(at_));
    if (between != '.' && between != '/' && between != '-') return {};
    const std::size_t first = line_.digits(at_), second = line_.digits(first + 1);
    const std::size_t third = line_.digits(second + 1);
    if (second == first + 1 || line_.peek(second) != between || third == second + 1) return {};
    if (first - at_ != 4 && third - second != 5) return {};
    if (between == '-') {
      const std::string month = two_digits(first + 1, second), day = two_digits(second + 1, third);
      if (first - at_ != 4 || month.empty() || day.empty() || third - at_ == 10) return {};
      const std::string right = line_.cut(at_, first) + "-" + month + "-" + day;
      return say(third, "a date is written " + right + ", with two digits for month and day", false);
    }
    return say(third, "a date is written year-month-day, as 2026-03-14");
  }

  /// 14 March 2026
  std::optional<Slip> date_in_words() const {
    const std::size_t begin = line_.blanks(end_);
    const std::size_t month = month_of(line_.word(begin)),
                      year = line_.blanks(begin + line_.word(begin).size());
    const std::size_t behind = line_.digits(year);
    if (month == 0 || behind != year + 4 || line_.digits(at_) != end_ || end_ - at_ > 2) return {};
    const auto two = [](const std::string& digits) { return (digits.size() == 1 ? "0" : "") + digits; };
    return say(
        behind,
        "a date is written " + line_.cut(year, behind) + "-" + two(std::to_string(month)) + "-" + two(text_),
        false);
  }

  /// 5 kg / m^3
  std::optional<Slip> parted_unit() const {
    const std::size_t unit_end = line_.unit(end_), sign = line_.blanks(unit_end);
    const std::size_t next = line_.blanks(sign + 1), behind = line_.unit(next);
    const bool parts = line_.peek(sign) == '/' || line_.peek(sign) == '*';
    if (unit_end == end_ || !parts || behind == next) return {};
    return Slip{at_, behind,
                "no blank stands inside a unit: write " + line_.cut(at_, unit_end) + line_.peek(sign) +
                    line_.cut(next, behind),
                false, sign};
  }

  std::string two_digits(std::size_t begin, std::size_t end) const {  // "" where there are more
    return end - begin > 2 ? std::string() : (end - begin == 1 ? "0" : "") + line_.cut(begin, end);
  }

  /// 1.234,5  1.234.567
  std::optional<Slip> groups_of_points() const {
    std::size_t end = line_.digits(at_), groups = 0;
    std::string whole = line_.cut(at_, end);
    if (whole.size() > 3) return {};
    for (; line_.peek(end) == '.' && line_.digits(end + 1) == end + 4; end += 4, ++groups)
      whole += line_.cut(end + 1, end + 4);
    const bool comma = groups != 0 && line_.peek(end) == ',' && is_digit(line_.peek(end + 1));
    if (comma) return write(line_.digits(end + 1), whole + "." + line_.cut(end + 1, line_.digits(end + 1)));
    return groups > 1 ? write(end, whole) : std::nullopt;
  }

  /// 1,5  1,500  1 500  1,234.5
  std::optional<Slip> grouping() const {
    const std::size_t group = end_ + 1;
    const char behind = line_.peek(group + 3);
    if (line_.peek(end_) == ' ' && line_.digits(group) == group + 3 && !is_word_part(behind) &&
        behind != '/' && end_ - at_ <= 3)
      return write(group + 3, text_ + line_.cut(group, group + 3));
    if (line_.peek(end_) != ',' || !is_digit(line_.peek(group))) return {};
    const std::size_t rest = line_.digits(group);
    if (line_.peek(rest) == ',' && is_digit(line_.peek(rest + 1)))
      return say(line_.digits(rest + 1), "digits are not grouped, and the decimal sign is a point");
    if (text_.find('.') != std::string::npos)
      return say(rest, "digits are not grouped, and the decimal sign is a point");
    const std::string part = line_.cut(group, rest);
    if (part.size() == 3 && line_.peek(rest) == '.' && is_digit(line_.peek(rest + 1)))
      return write(line_.digits(rest + 1), text_ + part + line_.cut(rest, line_.digits(rest + 1)));
    std::string right = text_ + "." + part;
    if (part.size() == 3 && text_ != "0" && text_.size() <= 3)
      right += ", or " + text_ + part + " if that is meant";
    return write(rest, right);
  }

  /// 1½  1 ½  1⁄2  1-1/4
  std::optional<Slip> fraction() const {
    const std::size_t next = line_.blanks(end_);
    const auto [code, size] = line_.glyph(next);
    if (const auto right = right_for(fraction_signs, code); !right.empty())
      return write_unit(next + size, right);
    const std::size_t low = next + size;
    if ((code == 0x2044 || code == 0x2215) && is_digit(line_.peek(low)))
      return write(line_.digits(low), text_ + "/" + line_.cut(low, line_.digits(low)));
    if (line_.peek(end_) != '-' || !is_digit(line_.peek(end_ + 1))) return {};
    const std::size_t over = line_.digits(end_ + 1);
    if (line_.peek(over) != '/' || !is_digit(line_.peek(over + 1))) return {};
    const std::size_t behind = line_.digits(over + 1);
    return write_unit(behind, line_.cut(end_ + 1, behind));
  }

  /// 5"  5''  2'  30°  20 °C
  std::optional<Slip> mark() const {
    const auto [code, size] = line_.glyph(end_);
    std::size_t behind = end_ + size;
    std::string_view right = right_for(length_marks, code);
    if (code == '\'' && line_.may_close('\'', at_)) return {};
    if (right == "ft" && text_.size() <= 3 && line_.digits(behind) == behind + 3)  // 1'257
      return write(behind + 3, text_ + line_.cut(behind, behind + 3));
    if (right == "ft" && line_.glyph(behind).code == code) {
      right = "in";
      behind += line_.glyph(behind).size;
    }
    if (!right.empty()) return write_unit(behind, right);
    const std::size_t sign = line_.blanks(end_);
    const auto [degree, width] = line_.glyph(sign);
    if (right_for(other_signs, degree) != "deg") return {};
    const std::size_t scale = line_.blanks(sign + width);
    if (line_.word(scale) == "C") return write_unit(scale + 1, "degC");
    if (line_.word(scale) == "F") return write_unit(scale + 1, "degF");
    return write_unit(sign + width, "deg");
  }

  /// 3 inches  35 ft-lb  20 µm  35 €
  std::optional<Slip> other_unit() const {
    const std::size_t begin = line_.blanks(end_);
    for (const Spelling& torque : other_torques) {
      const std::size_t behind = begin + torque.seen.size();
      if (line_.starts(begin, torque.seen) && !is_word_part(line_.peek(behind)) && line_.peek(behind) != '*')
        return write_unit(behind, torque.right, false);
    }
    const std::string_view name = line_.word(begin);
    if (const auto right = right_for(other_units, name); !right.empty()) {
      auto slip = write_unit(begin + name.size(), right, false);
      for (const Meaning& other : other_meanings)
        if (other.seen == name)
          slip->by_dimension.emplace_back(other.dimension, "write " + text_ + " " + std::string(other.right));
      return slip;
    }
    const auto [code, size] = line_.glyph(begin);
    const std::string_view rest = line_.word(begin + size);
    if (code == 0xB5 || code == 0x3BC) return write_unit(begin + size + rest.size(), "u" + std::string(rest));
    if (code == 0x2126 || code == 0x3A9) return write_unit(begin + size, "ohm");
    if (const auto money = right_for(money_signs, code); !money.empty())
      return write_unit(begin + size, money);
    return {};
  }

  /// 2.1 mm²  90 N·m
  std::optional<Slip> unit_sign() const {
    const std::size_t unit_end = line_.unit(end_);
    const auto [code, size] = line_.glyph(unit_end);
    if (unit_end == end_ || code < 0x80) return {};
    const std::size_t behind = unit_end + size;
    const std::string unit = line_.cut(at_, unit_end);
    if (code == 0xB2 || code == 0xB3) return write(behind, unit + (code == 0xB2 ? "^2" : "^3"));
    const std::string_view factor = line_.word(behind);
    if (right_for(other_signs, code) != "*" || !is_builtin_unit_name(factor)) return {};
    return write(behind + factor.size(), unit + "*" + std::string(factor));
  }

  /// Behind a '+': 0.1/-0.2 and 0.1 −0.2, the limits of a spread
  std::optional<Slip> limits() const {
    if (line_.before(at_) != '+') return {};
    std::size_t i = line_.blanks(line_.unit(end_));
    const bool slash = line_.peek(i) == '/' && line_.peek(i + 1) == '-';
    const auto [code, size] = line_.glyph(i);
    if (!slash && (code < 0x80 || right_for(other_signs, code) != "-")) return {};
    i = line_.blanks(i + (slash ? 2 : size));
    const std::size_t low_end = line_.number(i);
    if (low_end == i) return {};
    return write(low_end, line_.cut(at_, line_.unit(end_)) + " -" + line_.cut(i, low_end));
  }

  /// 500 to 570 kg  10-12 mm  10 mm – 12 mm  500…570 kg
  std::optional<Slip> range() const {
    const std::size_t low_end = line_.unit(end_);
    std::size_t i = line_.blanks(low_end);
    const std::size_t dash_at = i;
    const auto [code, size] = line_.glyph(i);
    const bool three_dots = line_.starts(i, "...");
    const bool dash = code == '-' || right_for(other_signs, code) == "-";
    const std::string_view name = line_.word(i);
    const bool spoken = name == "to" || name == "until";
    if (!spoken && !three_dots && !dash && code != 0x2026) return {};
    i = line_.blanks(i + (spoken ? name.size() : three_dots ? 3 : size));
    const std::size_t high_end = line_.number(i);
    if (high_end == i) return {};
    const std::size_t behind = line_.unit(high_end);
    if (dash && line_.peek(line_.blanks(behind)) == '+')
      return say(behind, "of two limits the upper one stands first: 25 mm +0.1 -0.2");
    const bool minus = code == '-';  // in an expression it is right
    const auto number = [](const std::string& text) { return std::strtod(text.c_str(), nullptr); };
    if (dash && number(line_.cut(i, high_end)) <= number(text_))
      return Slip{at_, behind, "a range is written 10..12 mm, limits 25 mm +0.1 -0.2", false, dash_at};
    const bool one_unit = low_end != end_ && behind == high_end;  // 10 mm - 12
    const std::string low = one_unit ? text_ : line_.cut(at_, low_end);
    const std::string high = line_.cut(i, behind) + (one_unit ? line_.cut(end_, low_end) : "");
    Slip slip{at_, behind, "write " + low + ".." + high, code >= 0x80 || three_dots};
    if (minus) slip.trip = dash_at;
    return slip;
  }

  /// 35?
  std::optional<Slip> doubt() const {
    const std::size_t behind = line_.unit(end_);
    if (line_.peek(behind) != '?') return {};
    return say(behind + 1, "say how far it may be off, as 35 mm +- 5 mm; ? alone is not known at all", false);
  }

  const LineReader& line_;
  std::size_t at_, end_;
  std::string text_;
};

}  // namespace

std::optional<Slip> slip_at_number(const LineReader& line, std::size_t at, std::size_t end) {
  return Number(line, at, end).slip();
}

}  // namespace mm

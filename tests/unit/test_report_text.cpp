// Wrapping and number formatting of reports. Expected texts follow from the rules stated in the headers.
#include <doctest/doctest.h>

#include <sstream>

#include "base/date_text.hpp"
#include "base/display_width.hpp"
#include "report/numbers.hpp"
#include "report/page.hpp"

using namespace mm;

namespace {

Unit unit_of(std::string_view name) { return *UnitTable().find(name); }

std::vector<std::string> lines(const std::string& text) {
  std::vector<std::string> out;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) out.push_back(line);
  return out;
}

}  // namespace

TEST_CASE("display width counts characters, not bytes") {
  CHECK(display_width("abc") == 3);
  CHECK(display_width("±2 mm") == 5);
  CHECK(display_width("e\u0301") == 1);  // combining acute accent
  CHECK(display_width("車輪") == 4);     // wide
}

TEST_CASE("no wrapped line is wider than the page, and no word is lost") {
  const std::string text =
      "the studs enter at an angle and the nuts work loose after a few miles of driving, "
      "so the wheel is lost on the road: 114.3 mm against 108 mm";
  for (std::size_t width = 20; width <= 100; ++width) {
    std::string joined;
    for (const auto& line : lines(wrap(text, 2, 4, width))) {
      CHECK(display_width(line) <= width);
      joined += (joined.empty() ? "" : " ") + line.substr(line.find_first_not_of(' '));
    }
    CHECK(joined == text);
  }
}

TEST_CASE("a number stays beside its unit") {
  for (std::size_t width = 12; width <= 40; ++width)
    for (const auto& line : lines(wrap("it is 114.3 mm wide and 6.2 MPa strong", 0, 0, width))) {
      CHECK_FALSE(line.starts_with("mm"));
      CHECK_FALSE(line.starts_with("MPa"));
    }
}

TEST_CASE("a mixed number stays whole") {
  for (std::size_t width = 12; width <= 40; ++width) {
    const std::string out = wrap("the ball is 1 7/8 in across and 3/8 in short", 0, 0, width);
    CHECK(out.find("1 7/8 in") != std::string::npos);
    CHECK(out.find("3/8 in") != std::string::npos);
  }
}

TEST_CASE("a word longer than a line is broken") {
  const std::string word(200, 'x');
  const auto out = lines(wrap(word, 1, 3, 80));
  CHECK(out.size() == 3);
  for (const auto& line : out) CHECK(display_width(line) <= 80);
}

TEST_CASE("indents: first line and the rest") {
  const auto out = lines(wrap("one two three four", 1, 5, 12));
  CHECK(out[0] == " one two");
  CHECK(out[1] == "     three");
  CHECK(out[2] == "     four");
}

TEST_CASE("colour is laid round the head and never widens a line") {
  Page page(true);
  page.text("conflict: a", 1, 3, Tone::bad, 8);
  CHECK(page.str() == " \x1b[1;31mconflict\x1b[0m: a\n");
  Page plain(false);
  plain.text("conflict: a", 1, 3, Tone::bad, 8);
  CHECK(plain.str() == " conflict: a\n");
}

TEST_CASE("lists and counts in plain English") {
  CHECK(listed(std::vector<std::string>{"a"}) == "a");
  CHECK(listed(std::vector<std::string>{"a", "b"}) == "a and b");
  CHECK(listed(std::vector<std::string>{"a", "b", "c"}) == "a, b and c");
  CHECK(counted(1, "part") == "1 part");
  CHECK(counted(2, "part") == "2 parts");
  CHECK(counted(2, "fits", "fit") == "2 fit");
}

TEST_CASE("significant digits, rounded as asked") {
  CHECK(significant(Rational(1, 3), 4) == "0.3333");
  CHECK(significant(Rational(1, 3), 4, Rounding::up) == "0.3334");
  CHECK(significant(Rational(-1, 3), 4, Rounding::up) == "-0.3333");
  CHECK(significant(Rational(-1, 3), 4, Rounding::down) == "-0.3334");
  CHECK(significant(Rational(2290), 2) == "2300");
  CHECK(significant(Rational(999999), 3) == "1000000");
  CHECK(significant(Rational(0), 4) == "0");
  CHECK(significant(Rational(1, 100000000), 3) == "1e-8");
  // beyond what a double holds, and its least
  CHECK(significant(whole_power(10, -400) * 25, 3) == "2.5e-399");
  CHECK(significant(whole_power(10, 400) * 25, 3) == "2.5e401");
  CHECK(significant(exact(0x1p-1074), 3) == "4.94e-324");
  // never nothing where there is something
  CHECK(significant(Rational(1, 100000), 2, Rounding::down) != "0");
}

TEST_CASE("points: exact where seven digits do") {
  CHECK(number_text(Rational(1143, 10000), unit_of("mm")) == "114.3 mm");
  CHECK(number_text(Rational(1143, 10000), unit_of("in")) == "4.5 in");  // NIST SP 811: 1 in = 25.4 mm
  CHECK(number_text(Rational(1, 3000), unit_of("mm")) == "0.3333 mm");
  CHECK(number_text(Rational(9, 20), unit_of("percent")) == "45%");
  CHECK(number_text(Rational(5), Unit{}) == "5");
}

TEST_CASE("ranges are rounded outward") {
  const auto mm = unit_of("mm");
  CHECK(number_text(ExactInterval::of(Rational(39, 1000), Rational(43, 1000)), mm) == "39..43 mm");
  CHECK(number_text(ExactInterval::of(Rational(1, 3000), Rational(2, 3000)), mm) == "0.333..0.667 mm");
  CHECK(number_text(ExactInterval::entire(), mm) == "any value");
  ExactInterval open = ExactInterval::of(Rational(20, 1000), Rational(20, 1000));
  open.hi_infinite = true;
  CHECK(number_text(open, mm) == "at least 20 mm");
}

TEST_CASE("the error of binary arithmetic is not shown as a spread") {
  const Interval almost = Interval::of(round_down(Rational(1143, 10000)), round_up(Rational(1143, 10000)));
  CHECK(number_text(almost, unit_of("mm")) == "114.3 mm");
}

TEST_CASE("angles are stored in turns and told in degrees or radians") {
  CHECK(number_text(Rational(1, 4), unit_of("deg")) == "90 deg");
  CHECK(number_text(Rational(1, 4), unit_of("rad")) == "1.571 rad");  // pi / 2
}

TEST_CASE("temperatures: offset for a value, none for a difference") {
  CHECK(number_text(Rational(29315, 100), unit_of("degC")) == "20 degC");
  CHECK(number_text(Rational(5), unit_of("degC"), true) == "5 K");
}

TEST_CASE("the usual unit of a dimension") {
  const UnitTable units;
  const Names names;
  const auto usual = [&](std::string_view word) {
    return usual_unit(*UnitTable::dimension_word(word), units, names).text;
  };
  CHECK(usual("length") == "mm");
  CHECK(usual("pressure") == "MPa");
  CHECK(usual("torque") == "N*m");
  CHECK(usual("speed") == "km/h");
  CHECK(usual("ratio").empty());
}

TEST_CASE("dates") {
  CHECK(date_text(0) == "1970-01-01");
  CHECK(date_text(20'526) == "2026-03-14");
}

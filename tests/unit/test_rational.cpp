#include <doctest/doctest.h>

#include <cfenv>
#include <cmath>
#include <limits>
#include <random>

#include "base/rational.hpp"

using mm::Rational;

TEST_CASE("read_number reads what a person writes, exactly") {
  CHECK(*mm::read_number("12") == 12);
  CHECK(*mm::read_number("0.43") == Rational(43, 100));
  CHECK(*mm::read_number(".5") == Rational(1, 2));
  CHECK(*mm::read_number("1e-3") == Rational(1, 1000));
  CHECK(*mm::read_number("2.5E+2") == 250);
  CHECK(*mm::read_number("3/8") == Rational(3, 8));
  CHECK(*mm::read_number("1 1/4") == Rational(5, 4));
  CHECK(*mm::read_number("007") == 7);
  CHECK(*mm::read_number("010/020") == Rational(1, 2));
  CHECK(*mm::read_number("114.3") == Rational(1143, 10));
  CHECK(mm::read_number("1e300").has_value());
}

TEST_CASE("read_number refuses everything else") {
  for (const char* text :
       {"",      ".",    "5.",  "-1", "+1", "1e",     "1e+", "1 2", "1 .5",  "3/0",           "3/",   "/8",
        "1/2/3", "0x10", "1,5", " 1", "1 ", "1 1/4 ", "inf", "nan", "1e301", "1e99999999999", "1.5/2"}) {
    CAPTURE(text);
    CHECK_FALSE(mm::read_number(text).has_value());
  }
  CHECK(mm::read_number(std::string(400, '9')).has_value());
  CHECK_FALSE(mm::read_number(std::string(401, '9')).has_value());
  CHECK_FALSE(mm::read_number(std::string(200, '9') + "e201").has_value());
  CHECK_FALSE(mm::read_number("0." + std::string(200, '3') + "e-201").has_value());
}

TEST_CASE("round_down and round_up are the neighbours of the exact value") {
  constexpr double infinity = std::numeric_limits<double>::infinity();
  constexpr double largest = std::numeric_limits<double>::max();
  constexpr double least = std::numeric_limits<double>::denorm_min();
  CHECK(mm::round_down(Rational(1, 3)) == 0x1.5555555555555p-2);
  CHECK(mm::round_up(Rational(1, 3)) == 0x1.5555555555556p-2);
  CHECK(mm::round_down(Rational(-1, 3)) == -0x1.5555555555556p-2);
  CHECK(mm::round_up(Rational(-1, 3)) == -0x1.5555555555555p-2);
  CHECK(mm::round_down(Rational(0)) == 0);
  CHECK(mm::round_up(mm::exact(0.1)) == 0.1);
  const Rational huge = mm::exact(largest) * 2;
  CHECK(mm::round_down(huge) == largest);
  CHECK(mm::round_up(huge) == infinity);
  CHECK(mm::round_down(-huge) == -infinity);
  CHECK(mm::round_up(-huge) == -largest);
  const Rational tiny = mm::exact(least) / 3;
  CHECK(mm::round_down(tiny) == 0);
  CHECK(mm::round_up(tiny) == least);
  CHECK(mm::round_down(-tiny) == -least);
  CHECK(mm::round_up(mm::exact(least) * 5 / 2) == 3 * least);
}

TEST_CASE("rounding brackets random values tightly in every rounding mode") {
  std::mt19937_64 random(7);
  for (const int mode : {FE_TONEAREST, FE_UPWARD, FE_DOWNWARD, FE_TOWARDZERO}) {
    std::fesetround(mode);
    for (int i = 0; i < 2000; ++i) {
      Rational value(mpz_class(static_cast<long>(random() >> 2)),
                     mpz_class(static_cast<long>((random() >> 2) + 1)));
      value.canonicalize();
      if (random() & 1U) value = -value;
      const double down = mm::round_down(value), up = mm::round_up(value);
      REQUIRE(mm::exact(down) <= value);
      REQUIRE(mm::exact(up) >= value);
      REQUIRE((down == up || std::nextafter(down, up) == up));
    }
    std::fesetround(FE_TONEAREST);
  }
}

TEST_CASE("decimal_text is plain and drops trailing zeros") {
  CHECK(mm::decimal_text(Rational(43, 100)) == "0.43");
  CHECK(mm::decimal_text(Rational(-3)) == "-3");
  CHECK(mm::decimal_text(Rational(0)) == "0");
  CHECK(mm::decimal_text(Rational(1, 3), 4) == "0.3333");
  CHECK(mm::decimal_text(Rational(2, 3), 4) == "0.6667");
  CHECK(mm::decimal_text(Rational(-1, 1000), 2) == "0");
  CHECK(mm::decimal_text(Rational(1995, 1000), 2) == "2");
  CHECK(mm::decimal_text(Rational(15, 10), 0) == "2");
  CHECK(mm::decimal_text(Rational(1000)) == "1000");
  CHECK(mm::decimal_text(Rational(1, 1000)) == "0.001");
  CHECK(mm::decimal_text(Rational(-1143, 10)) == "-114.3");
}

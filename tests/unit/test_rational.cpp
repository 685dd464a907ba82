#include <doctest/doctest.h>

#include <algorithm>
#include <cfenv>
#include <cmath>
#include <cstdlib>
#include <limits>
#include <random>
#include <utility>
#include <vector>

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
      Rational value(static_cast<std::int64_t>(random() >> 2),
                     static_cast<std::int64_t>((random() >> 2) + 1));
      if (random() % 3 == 0)
        value = Rational(static_cast<std::int64_t>(random() >> 1), std::int64_t{1} << random() % 63);
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

// GMP is the reference: small values and those at the ends of a word, where one form gives way to the other.
TEST_CASE("exact arithmetic agrees with GMP on either side of what two words hold") {
  std::vector<Rational> values;
  const std::int64_t most = std::numeric_limits<std::int64_t>::max();
  const std::int64_t least = std::numeric_limits<std::int64_t>::min();
  for (const std::int64_t top : {std::int64_t{0}, std::int64_t{1}, std::int64_t{-1}, std::int64_t{7},
                                 std::int64_t{-12}, most, most - 1, -most, least, most / 3})
    for (const std::int64_t bottom : {std::int64_t{1}, std::int64_t{-1}, std::int64_t{2}, std::int64_t{3},
                                      std::int64_t{127}, most, least})
      values.emplace_back(top, bottom);
  values.emplace_back(std::numeric_limits<std::uint64_t>::max());
  values.push_back(mm::whole_power(10, 30));
  values.push_back(mm::whole_power(10, -30));
  std::mt19937_64 random(11);
  for (int i = 0; i < 40; ++i)
    values.emplace_back(static_cast<std::int64_t>(random() >> (random() % 64)),
                        static_cast<std::int64_t>(1 + (random() >> (1 + random() % 63))));
  const auto same = [](const Rational& ours, const mpq_class& gmp) {
    return ours.gmp() == gmp && ours == Rational(gmp) && ours.text() == gmp.get_str() &&
           ours.sign() == sgn(gmp) && ours.is_whole() == (gmp.get_den() == 1) &&
           (ours.small() != nullptr) == (gmp.get_den() <= most && ::abs(gmp.get_num()) <= most);
  };
  for (const Rational& a : values) {
    const mpq_class x = a.gmp();
    REQUIRE(same(a, x));
    REQUIRE(same(-a, -x));
    REQUIRE(same(abs(a), ::abs(x)));
    mpz_class down, up;
    mpz_fdiv_q(down.get_mpz_t(), x.get_num_mpz_t(), x.get_den_mpz_t());
    mpz_cdiv_q(up.get_mpz_t(), x.get_num_mpz_t(), x.get_den_mpz_t());
    REQUIRE(same(floor(a), mpq_class(down)));
    REQUIRE(same(ceil(a), mpq_class(up)));
    REQUIRE(exact_root(a * a) == std::optional(abs(a)));
    REQUIRE(exact_root(abs(a * a * a), 3) == std::optional(abs(a)));
    REQUIRE(mm::whole_power(a, 3) == a * a * a);
    REQUIRE(mm::times_power_of_two(a, 70) / mm::times_power_of_two(1, 70) == a);
    REQUIRE(mm::binary_exponent(a) == static_cast<long>(mpz_sizeinbase(x.get_num_mpz_t(), 2)) -
                                          static_cast<long>(mpz_sizeinbase(x.get_den_mpz_t(), 2)));
    REQUIRE(bits(a) == std::max(mpz_sizeinbase(x.get_num_mpz_t(), 2), mpz_sizeinbase(x.get_den_mpz_t(), 2)));
    for (const Rational& b : values) {
      const mpq_class y = b.gmp();
      REQUIRE(same(a + b, x + y));
      REQUIRE(same(a - b, x - y));
      REQUIRE(same(a * b, x * y));
      if (b != 0) REQUIRE(same(a / b, x / y));
      REQUIRE((a < b) == (x < y));
      REQUIRE((a == b) == (x == y));
    }
  }
  CHECK(mm::whole_power(Rational(2, 3), -3) == Rational(27, 8));
  CHECK_FALSE(exact_root(Rational(2)));
  CHECK_FALSE(exact_root(Rational(-4)));
  CHECK_FALSE(exact_root(Rational(-8), 3));
  CHECK_FALSE(exact_root(Rational(8), 2));
  CHECK(whole_word(Rational(-3)) == std::optional<std::int64_t>(-3));
  CHECK_FALSE(whole_word(Rational(1, 2)));
  CHECK_FALSE(whole_word(mm::whole_power(10, 30)));
}

TEST_CASE("the exact value of a double is GMP's") {
  std::mt19937_64 random(3);
  std::vector<double> values{0.0,
                             -0.0,
                             1.0,
                             -1.0,
                             0.1,
                             0x1p-62,
                             0x1p-63,
                             0x1p62,
                             0x1p63,
                             0x1p-1074,
                             0x1.8p-61,
                             std::numeric_limits<double>::max(),
                             -std::numeric_limits<double>::min(),
                             25.4};
  for (int i = 0; i < 3000; ++i)
    values.push_back(std::ldexp(static_cast<double>(static_cast<std::int64_t>(random())),
                                static_cast<int>(random() % 300) - 200));
  for (const double value : values) {
    CAPTURE(value);
    REQUIRE(mm::exact(value) == Rational(mpq_class(value)));
  }
}

// The C library's strtod rounds to nearest, ties to even (C11 7.22.1.3; glibc does so exactly).
TEST_CASE("the nearest double is what strtod reads") {
  std::mt19937_64 random(5);
  std::vector<std::string> texts{"0",
                                 "0.1",
                                 "25.4",
                                 "1e-300",
                                 "9007199254740993",
                                 "9007199254740995",
                                 "4503599627370497.5",
                                 "0.30000000000000004",
                                 "179769313486231570000e289"};
  for (int i = 0; i < 3000; ++i)
    texts.push_back(std::to_string(random() >> (random() % 60)) + "." +
                    std::to_string(random() >> (random() % 60)) +
                    (random() % 2 == 0 ? "" : "e" + std::to_string(static_cast<int>(random() % 60) - 30)));
  for (const std::string& text : texts) {
    CAPTURE(text);
    const Rational value = *mm::read_number(text);
    REQUIRE(mm::round_nearest(value) == std::strtod(text.c_str(), nullptr));
    REQUIRE(mm::round_nearest(-value) == -std::strtod(text.c_str(), nullptr));
  }
  CHECK_FALSE(std::signbit(mm::round_nearest(0)));
}

TEST_CASE("a copy of a number that fills more than a word has a life of its own") {
  const Rational large = mm::whole_power(Rational(7), 90), small(3, 8);
  Rational a = large, b = small;
  CHECK(a == large);
  a = b;
  CHECK(a == small);
  b = large;
  CHECK(b == large);
  Rational& same = b;
  b = same;
  CHECK(b == large);
  a = std::move(b);
  CHECK(a == large);
  b = a + 1;
  CHECK(b - 1 == large);
  Rational c = std::move(a);
  CHECK(c == large);
  a = small;
  CHECK(a + c == large + small);
  std::vector<Rational> many;
  for (int i = 0; i < 100; ++i) many.push_back(i % 2 == 0 ? large + i : small + i);
  std::reverse(many.begin(), many.end());
  for (int i = 0; i < 100; ++i)
    CHECK(many[static_cast<std::size_t>(99 - i)] - i == (i % 2 == 0 ? large : small));
}

// Exact rationals, and the reading and writing of numbers as a person does.
#pragma once
#include <gmpxx.h>

#include <bit>
#include <compare>
#include <concepts>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "base/ratio.hpp"

namespace mm {

/// An exact rational of any size: two machine words while both sides fit, as those of nearly every number
/// that a person writes do in whatever unit, and GMP's beyond. Nothing overflows; dividing by zero is an
/// error of the caller.
class Rational {
 public:
  Rational() = default;
  template <std::integral Whole>
  Rational(Whole value) {
    if constexpr (std::is_signed_v<Whole>) {
      take(std::int64_t{value});
    } else {
      take(std::uint64_t{value});
    }
  }
  Rational(Ratio value) : words_(value) {}
  /// bottom not zero.
  Rational(std::int64_t top, std::int64_t bottom);
  /// In lowest terms, as everything that GMP works out is.
  explicit Rational(mpq_class value) { take(std::move(value)); }

  Rational(const Rational& other) : words_(other.words_) {
    if (is_large()) keep(*other.large());
  }
  Rational(Rational&& other) noexcept : words_(std::exchange(other.words_, Ratio{})) {}
  Rational& operator=(const Rational& other) {
    if (is_large() || other.is_large()) return *this = Rational(other);
    words_ = other.words_;
    return *this;
  }
  Rational& operator=(Rational&& other) noexcept {
    std::swap(words_, other.words_);
    return *this;
  }
  ~Rational() {
    if (is_large()) drop();
  }

  /// Null where a side does not fit a word.
  const Ratio* small() const { return is_large() ? nullptr : &words_; }
  /// Null where both fit.
  const mpq_class* large() const {
    return is_large() ? std::bit_cast<const mpq_class*>(words_.top) : nullptr;
  }
  mpq_class gmp() const;
  bool is_whole() const { return is_large() ? large()->get_den() == 1 : words_.bottom == 1; }
  /// -1, 0 or 1.
  int sign() const { return is_large() ? sgn(*large()) : words_.top < 0 ? -1 : words_.top > 0 ? 1 : 0; }
  /// Near it; an infinity beyond the range.
  double to_double() const;
  /// "-3", "5/2".
  std::string text() const;

  Rational operator-() const;
  Rational& operator+=(const Rational& b) { return *this = *this + b; }
  Rational& operator-=(const Rational& b) { return *this = *this - b; }
  Rational& operator*=(const Rational& b) { return *this = *this * b; }
  Rational& operator/=(const Rational& b) { return *this = *this / b; }
  Rational& operator++() { return *this += 1; }

  friend Rational operator+(const Rational& a, const Rational& b);
  friend Rational operator-(const Rational& a, const Rational& b);
  friend Rational operator*(const Rational& a, const Rational& b);
  friend Rational operator/(const Rational& a, const Rational& b);
  friend int compare(const Rational& a, const Rational& b);
  /// Each value has one form.
  friend bool operator==(const Rational& a, const Rational& b) {
    return a.is_large() ? b.is_large() && *a.large() == *b.large() : a.words_ == b.words_;
  }
  friend std::strong_ordering operator<=>(const Rational& a, const Rational& b) {
    return compare(a, b) <=> 0;
  }

 private:
  void take(std::int64_t value);
  void take(std::uint64_t value);
  void take(mpq_class&& value);
  bool is_large() const { return words_.bottom == 0; }
  void keep(mpq_class value);
  void drop();

  Ratio words_;  // or, with a bottom of 0, where the number lies that GMP holds and this owns
};

Rational abs(const Rational& value);
/// The whole number at or below, and at or above.
Rational floor(const Rational& value);
Rational ceil(const Rational& value);
/// value * 2^power.
Rational times_power_of_two(const Rational& value, long power);
/// base^exponent; base not zero where the exponent is negative.
Rational whole_power(const Rational& base, long exponent);
/// Where both sides are squares, or powers of another degree; of nothing below zero.
std::optional<Rational> exact_root(const Rational& value, unsigned long degree = 2);
/// Binary digits of the longer side.
std::size_t bits(const Rational& value);
/// Binary digits of the top less those of the bottom: the size is between 2^(it - 1) and 2^(it + 1).
long binary_exponent(const Rational& value);
/// Nullopt for what is not whole or does not fit.
std::optional<std::int64_t> whole_word(const Rational& value);

/// Reads "12", "0.43", ".5", "1e-3", "3/8" or "1 1/4" exactly. No sign, no unit.
/// Fails (nullopt) on anything else, on a zero denominator, and where the value would need more than
/// 400 decimal digits or an exponent beyond 300, so that hostile text stays cheap.
std::optional<Rational> read_number(std::string_view text);

/// The double next at or below, and next at or above, the exact value (-inf/+inf beyond the range).
double round_down(const Rational& value);
double round_up(const Rational& value);
/// The nearest double, as IEEE 754 rounds: of two that are as near, the even one.
double round_nearest(const Rational& value);

/// The exact value of a finite double.
Rational exact(double value);

/// Shortest plain decimal that reads back as `value` when it terminates within `max_digits` places
/// after the point; else rounded to nearest at that many places, trailing zeros dropped. "0.43", "-3".
std::string decimal_text(const Rational& value, int max_digits = 12);
/// The same, but for a number too small for these places its first two digits: "0.0000012", "4e-12".
std::string nonzero_decimal_text(const Rational& value, int max_digits);

}  // namespace mm

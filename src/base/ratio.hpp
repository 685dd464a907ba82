// Exact rationals in two machine words: nearly every number that a person writes, in whatever unit. What does
// not fit is a Rational.
#pragma once
#include <cstdint>
#include <optional>
#include <string_view>

#include "base/rational.hpp"

namespace mm {

/// In lowest terms, bottom above zero.
struct Ratio {
  std::int64_t top = 0;
  std::int64_t bottom = 1;
  bool operator==(const Ratio&) const = default;
  bool is_whole() const { return bottom == 1; }
  Ratio operator-() const { return {-top, bottom}; }
};

/// "12", "0.43", ".5" with at most eighteen digits; nullopt for every other text.
std::optional<Ratio> read_ratio(std::string_view text);

/// Nullopt where the result does not fit.
std::optional<Ratio> ratio_of(const Rational& value);
std::optional<Ratio> product(Ratio a, Ratio b);
std::optional<Ratio> sum(Ratio a, Ratio b);

/// Below, at or above nought as a is less than, equal to or greater than b.
int compare(Ratio a, Ratio b);
int compare(const Rational& a, Ratio b);

Rational exact(Ratio value);
/// Puts the value into a number that is there, without making another.
void assign(Rational& to, Ratio value);

/// Whether both sides are exact as doubles.
bool fits_doubles(Ratio value);
/// The double next at or below, and next at or above.
double round_down(Ratio value);
double round_up(Ratio value);

}  // namespace mm

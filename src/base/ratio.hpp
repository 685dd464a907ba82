// Ratios of two machine words: what exact numbers are made of as long as both sides fit.
#pragma once
#include <cstdint>
#include <limits>
#include <optional>

namespace mm {

/// In lowest terms, bottom above zero, top above the least word, so that every one has a negative.
struct Ratio {
  std::int64_t top = 0;
  std::int64_t bottom = 1;
  bool operator==(const Ratio&) const = default;
  Ratio operator-() const { return {-top, bottom}; }
};

/// Nullopt where the result does not fit.
std::optional<Ratio> lowest_terms(std::int64_t top, std::int64_t bottom);  // bottom not zero
std::optional<Ratio> product(Ratio a, Ratio b);
std::optional<Ratio> sum(Ratio a, Ratio b);

/// Below, at or above nought as a is less than, equal to or greater than b.
int compare(Ratio a, Ratio b);

inline constexpr int mantissa_bits = std::numeric_limits<double>::digits;
/// Whether round_down is of it: both sides are exact as doubles, or the bottom is a power of two.
bool rounds_alone(Ratio value);
/// The double next at or below.
double round_down(Ratio value);

}  // namespace mm

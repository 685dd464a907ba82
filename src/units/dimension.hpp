// What a number measures: exponents over base dimensions, one currency, and a tag that keeps apart
// quantities of equal dimension (torque and energy).
#pragma once
#include <array>
#include <cstdint>
#include <optional>
#include <string>

#include "base/names.hpp"
#include "base/rational.hpp"

namespace mm {

enum class BaseDimension : std::uint8_t { length, mass, time, temperature, angle, current, amount, luminous };
inline constexpr std::size_t base_dimension_count = 8;

/// Tags only ever forbid: tagged and untagged mix, two different tags do not.
enum class QuantityTag : std::uint8_t { none, torque, energy };

/// Exponents are held in twelfths, so that square and cube roots stay exact.
/// Angle is a base dimension here (stored in turns), so that degrees are never taken for radians.
struct Dimension {
  std::array<std::int16_t, base_dimension_count> twelfths{};
  Symbol currency;  // none: no money in it
  std::int16_t currency_twelfths = 0;
  QuantityTag tag = QuantityTag::none;

  bool operator==(const Dimension&) const = default;
  bool is_ratio() const;  // no dimension at all
};

/// Same exponents and tags that do not contradict each other.
bool compatible(const Dimension& a, const Dimension& b);
/// Product, quotient (tags dropped); nullopt when two different currencies would mix or exponents overflow.
std::optional<Dimension> product(const Dimension& a, const Dimension& b);
std::optional<Dimension> quotient(const Dimension& a, const Dimension& b);
/// Power by an exact rational exponent; nullopt when a twelfth would be split or overflow.
std::optional<Dimension> power(const Dimension& a, const Rational& exponent);
/// "length", "pressure", "length^2*time^-1", "GBP", "ratio": the trade's word where there is one.
std::string dimension_name(const Dimension& dimension, const Names& names);

}  // namespace mm

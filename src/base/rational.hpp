// Exact rationals (GMP) and the reading of numbers as a person writes them.
#pragma once
#include <gmpxx.h>

#include <optional>
#include <string>
#include <string_view>

namespace mm {

using Rational = mpq_class;

/// Reads "12", "0.43", ".5", "1e-3", "3/8" or "1 1/4" exactly. No sign, no unit.
/// Fails (nullopt) on anything else, on a zero denominator, and where the value would need more than
/// 400 decimal digits or an exponent beyond 300, so that hostile text stays cheap.
std::optional<Rational> read_number(std::string_view text);

/// The double next at or below, and next at or above, the exact value (-inf/+inf beyond the range).
double round_down(const Rational& value);
double round_up(const Rational& value);

/// The exact value of a finite double.
Rational exact(double value);

/// Shortest plain decimal that reads back as `value` when it terminates within `max_digits` places
/// after the point; else rounded to nearest at that many places, trailing zeros dropped. "0.43", "-3".
std::string decimal_text(const Rational& value, int max_digits = 12);

}  // namespace mm

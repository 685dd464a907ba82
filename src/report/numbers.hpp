// Numbers for people: base-unit values in a unit, with digits that never hide on which side of a limit they
// lie.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "interval/exact_interval.hpp"
#include "model/model.hpp"
#include "units/usual_units.hpp"

namespace mm {

enum class Rounding : unsigned char { nearest, down, up };

/// At most `digits` significant digits, plain ("0.0125", "2290") or with an exponent where that is shorter.
std::string significant(const Rational& value, int digits, Rounding rounding = Rounding::nearest);

/// Reads what `significant` wrote.
std::optional<Rational> read_back(const std::string& text);

/// A base-unit value in the unit; exact unless pi is in it (then good to about 30 digits). `difference`: in K
/// for degC and degF, as `unit_suffix` has it.
Rational in_unit(const Rational& base, const Unit& unit, bool difference = false);

/// How many steps of the unit a base-unit difference is, of degF too: 5 K are 9.
Rational in_steps(const Rational& base, const Unit& unit);

/// Text of the unit behind a number: " mm", "%" or "".
std::string unit_suffix(const Unit& unit, bool difference = false);

/// Digits of a point that seven digits do not say exactly.
inline constexpr int usual_digits = 4;

/// "114.3 mm", "10.5..11.2 mm", "at least 3 mm", "any": outward-rounded where it is a range, and a point
/// exactly where seven digits do, else with `digits`, rounded as said.
std::string number_text(const ExactInterval& base, const Unit& unit, bool difference = false,
                        int digits = usual_digits, Rounding rounding = Rounding::nearest);
std::string number_text(const Interval& base, const Unit& unit, bool difference = false,
                        int digits = usual_digits, Rounding rounding = Rounding::nearest);
std::string number_text(const Rational& base, const Unit& unit, bool difference = false);

/// As for the dimension, but K for a difference of temperatures.
Unit usual_unit(const Type& type, const UnitTable& units, const Names& names);
/// Of a value that was written in none: that of its declaration, else the usual one.
Unit unit_of(const AttributeDef& attribute, const UnitTable& units, const Names& names);

}  // namespace mm

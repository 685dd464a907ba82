// Numbers with units, read exactly and put into base units.
#pragma once
#include "resolve/unit_hints.hpp"

namespace mm {

/// A number with its unit, exactly.
struct Measured {
  const Unit* unit = nullptr;  // ratio when bare; never null once read
  bool bare = false;           // no unit was written
  Rational amount;
  ExactInterval value;  // in base units; a point unless the unit holds pi
};

/// The unit of a number that was written without one.
const Unit& no_unit();
/// Null or nullopt after an error was reported. A unit belongs to the model. `wanted`, for the hint: what
/// the number is to be.
const Unit* read_unit(Context& context, const UnitSyntax& unit, const Type* wanted = nullptr);
std::optional<Rational> read_amount(Context& context, const NumberSyntax& number);
/// `fallback` stands in where no unit was written ("12.5..13.0 mm").
std::optional<Measured> read_quantity(Context& context, const QuantitySyntax& quantity,
                                      const Unit* fallback = nullptr, const Type* wanted = nullptr);
/// Whether the amount of a spread or limit has no sign of its own; reports one that has.
bool expect_unsigned(Context& context, const QuantitySyntax& spread);

/// How far a spread written beside `base` reaches, in base units: "0.02 mm", "0.02" of the value's unit, or
/// "3 %" of the value. Nothing, with a message, where it is of another dimension than `type`.
std::optional<ExactInterval> read_width(Context& context, const QuantitySyntax& spread, const Measured& base,
                                        const Type& type);
/// Whether "lo..hi", of which one has the unit, says what it means: "5..6 %" does, "5 % .. 0.06" may be
/// either and is reported.
bool clear_ends(Context& context, const QuantitySyntax& lo, const QuantitySyntax& hi, const Unit& unit);
/// amount * factor without a thermometer's offset: a difference.
ExactInterval scale_difference(Context& context, const Rational& amount, const Unit& unit);
/// Checks the dimension; reports and returns false where another is wanted. A bare number passes as ratio or
/// count only. `declared`, for the hint: the unit that the declaration names.
bool expect_dimension(Context& context, const Measured& measured, const Type& wanted, Span span,
                      const Unit* declared = nullptr);
/// Days since 1970-01-01; nullopt for a day that is not.
std::optional<long> day_number(const Date& date);

}  // namespace mm

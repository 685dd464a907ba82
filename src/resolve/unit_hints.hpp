// What to write where a unit is missing, misspelt or of another dimension.
#pragma once
#include <string>
#include <string_view>

#include "resolve/context.hpp"

namespace mm {

/// "mm or in"; "" where no unit of the dimension is at hand.
std::string unit_example(const Context& context, const Dimension& dimension);
/// "write the unit with it, mm or in"; `declared`, where there is one, before the usual ones.
std::string hint_for_missing_unit(const Context& context, const Dimension& dimension, const Unit* declared);
/// For the unknown name `bad` in a unit: the nearest that gives what is `wanted`, where something is.
std::string hint_for_unknown_unit(Context& context, const UnitSyntax& unit, std::string_view bad,
                                  const Type* wanted);
/// "length", "GBP": of the number that is wanted; "" where none is.
std::string wanted_dimension(const Context& context, const Type& wanted);

}  // namespace mm

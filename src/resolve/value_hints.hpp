// What would be right where a part's value is not.
#pragma once
#include <string>

#include "resolve/context.hpp"

namespace mm {

/// For an attribute that got another sort of value; `quoted`: a text; `word`: the one that was written.
std::string hint_for_value(const Context& context, const AttributeDef& attribute, bool quoted,
                           std::string_view word = {});
/// "it is declared for 50 mm..500 mm; look at the unit first"
std::string hint_for_range(const Context& context, const AttributeDef& attribute);

}  // namespace mm

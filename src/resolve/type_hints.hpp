// What to write where a type's name is not known.
#pragma once
#include <string>

#include "resolve/context.hpp"

namespace mm {

/// "it is written count", or the nearest name of a type; "" where there is none.
std::string hint_for_unknown_type(Context& context, const std::string& text);

}  // namespace mm

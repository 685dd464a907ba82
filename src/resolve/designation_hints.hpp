// What to write where a size is of no form of its designation.
#pragma once
#include "resolve/types.hpp"

namespace mm {

/// "write "M10x1.0"" where a small change makes it one; else examples, of those that the files hold.
std::string hint_for_size(Context& context, DesignationId id, std::string_view text);

}  // namespace mm

// The one trap of free layout, for whoever writes text: a number must not stand before a word that reads as
// its unit.
#pragma once
#include <string_view>

namespace mm {

/// Whether a ';' must stand between two statements or cells so that `next` does not become part of `before`.
bool needs_semicolon(std::string_view before, std::string_view next, bool same_line);

}  // namespace mm

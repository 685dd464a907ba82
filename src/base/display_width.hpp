// How much room a text takes on a terminal.
#pragma once
#include <cstddef>
#include <string_view>

namespace mm {

/// Columns of a text that has been through printable(): combining marks take 0, wide East Asian letters 2, a
/// stray byte 1.
std::size_t display_width(std::string_view text);

struct Glyph {
  std::size_t bytes = 0, columns = 0;
};
/// The first character of a text that is not empty.
Glyph front_glyph(std::string_view text);

}  // namespace mm

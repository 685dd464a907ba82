// Where a statement surely begins, told from the words and signs of its first tokens alone. No PEGTL.
#pragma once
#include <cstddef>
#include <string_view>

namespace mm {

/// What the statements round a wrong one look like where they begin.
enum class Begins : unsigned char {
  nothing,
  assignment,
  attribute,
  requirement,
  detail,
  build_statement,
  declaration
};

/// Whether such a statement surely begins at `at`: false where it may as well be something else.
bool begins_here(std::string_view bytes, std::size_t at, Begins begins);

}  // namespace mm

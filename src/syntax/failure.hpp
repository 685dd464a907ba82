// How a statement that cannot be parsed is left: thrown where it goes wrong, caught where parsing resumes.
#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "messages/message.hpp"

namespace mm {

struct Failure {
  Code code;
  std::uint32_t begin = 0, end = 0;  // what the message points at
  std::vector<std::string> arguments;
  std::string hint;
  std::vector<Label> labels;
  bool at_end = false;      // the file ends inside a block
  bool no_name = false;     // what is named there is not known
  std::string_view home{};  // where such a statement belongs: those that follow it are not told again
};

/// A block lacks its brace: everything up to the block whose text stands left of `column` is given up,
/// and parsing resumes at `line_begin`. Already reported.
struct BlockLost {
  std::uint32_t line_begin = 0;
  std::uint32_t column = 0;
};

/// Too many errors: the rest of the file is not read. Already reported.
struct GaveUp {};

}  // namespace mm

// Writing a file whole or not at all, and ending a run from wherever it is without leaving anything behind.
#pragma once
#include <string>
#include <string_view>

#include "app/options.hpp"

namespace mm {

/// Writes beside the file first and renames then. False with a message, and the file as it is, when it cannot
/// be written or no longer holds `former`.
bool replace_file(const std::string& path, std::string_view former, std::string_view text);

/// From now on an interrupt removes what stands written beside a file, is told, and ends the run as it would
/// without.
void end_cleanly_when_interrupted();

/// Ends the run at once: removes what stands written beside a file and writes a text on standard error. For a
/// signal's handler, and for where no memory is left.
[[noreturn]] void abandon(const char* text, Status status);

}  // namespace mm

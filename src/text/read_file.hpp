// Reads a whole regular file, and checks that bytes are text.
#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace mm {

enum class ReadProblem { none, missing, folder, not_regular, unreadable, too_large };

struct ReadResult {
  ReadProblem problem = ReadProblem::none;
  std::string bytes;   // when there was no problem
  std::string reason;  // the system's words, for unreadable
};

/// Reads at most max_bytes. Waits on nothing: pipes, devices and sockets are refused without being opened for
/// reading.
/// Links::refuse: of a path that holds none, for one may be put there while it is read.
enum class Links { follow, refuse };
ReadResult read_file(const std::string& path, std::size_t max_bytes, Links links = Links::follow);

/// Offset of the first byte that is not valid UTF-8 (overlong forms and surrogates are not), or nullopt.
std::optional<std::size_t> first_invalid_utf8(std::string_view bytes);

}  // namespace mm

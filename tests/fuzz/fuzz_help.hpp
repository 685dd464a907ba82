// What the fuzz targets share.
#pragma once
#include <cstdio>
#include <cstdlib>
#include <string>
#include <string_view>

namespace fuzz {

[[noreturn]] inline void fail(const char* what, std::string_view text) {
  std::fprintf(stderr, "%s:\n%.*s\n", what, static_cast<int>(text.size()), text.data());
  std::abort();
}

/// No control character but the end of a line.
inline void must_be_harmless(std::string_view shown, std::string_view text) {
  for (const char c : shown) {
    const auto byte = static_cast<unsigned char>(c);
    if ((byte < 0x20 && c != '\n') || byte == 0x7F) fail("a control character reaches the reader", text);
  }
}

}  // namespace fuzz

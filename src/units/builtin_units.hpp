// The rows of builtin_units.def.
#pragma once
#include <span>
#include <string_view>

namespace mm {

/// Exact decimal fractions as text; `dimension` is a word of the dimension table.
struct BuiltinUnit {
  std::string_view name;
  std::string_view dimension;
  const char* factor;
  const char* offset;
  int pi_power;
};

std::span<const BuiltinUnit> builtin_units();

}  // namespace mm

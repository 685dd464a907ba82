// Hashes of short keys, for tables that are asked for every word of a file. Nothing that is shown depends on
// them.
#pragma once
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <string_view>

namespace mm {

/// Both halves of a 128-bit product, folded: every bit of both factors counts.
inline std::uint64_t mixed(std::uint64_t a, std::uint64_t b) {
  __extension__ using Wide = unsigned __int128;
  const Wide product = static_cast<Wide>(a ^ 0x9E3779B97F4A7C15U) * (b ^ 0xD1B54A32D192ED03U);
  return static_cast<std::uint64_t>(product) ^ static_cast<std::uint64_t>(product >> 64U);
}

inline std::uint64_t hash_of(std::string_view text) {
  const auto eight = [&](std::size_t at) {
    std::uint64_t bits = 0;
    std::memcpy(&bits, text.data() + at, sizeof bits);
    return bits;
  };
  const auto four = [&](std::size_t at) {
    std::uint32_t bits = 0;
    std::memcpy(&bits, text.data() + at, sizeof bits);
    return std::uint64_t{bits};
  };
  const std::size_t size = text.size();
  if (size >= 8) {  // the last step reads some bytes twice
    std::uint64_t hash = size;
    for (std::size_t at = 0; at + 8 < size; at += 8) hash = mixed(hash, eight(at));
    return mixed(hash, eight(size - 8));
  }
  if (size >= 4) return mixed(size, four(0) << 32U | four(size - 4));
  std::uint64_t bits = 0;
  for (const char c : text) bits = bits << 8U | static_cast<unsigned char>(c);
  return mixed(size, bits);
}

/// As ==, without a call where the texts are short.
inline bool same_text(std::string_view a, std::string_view b) {
  if (a.size() != b.size()) return false;
  const auto same = [&](std::size_t at, auto bits) {
    auto other = bits;
    std::memcpy(&bits, a.data() + at, sizeof bits);
    std::memcpy(&other, b.data() + at, sizeof other);
    return bits == other;
  };
  const std::size_t size = a.size();
  if (size > 16) return a == b;
  if (size >= 8) return same(0, std::uint64_t{}) && same(size - 8, std::uint64_t{});
  if (size >= 4) return same(0, std::uint32_t{}) && same(size - 4, std::uint32_t{});
  for (std::size_t i = 0; i < size; ++i)
    if (a[i] != b[i]) return false;
  return true;
}

}  // namespace mm

// Three-valued truth over a box of worlds: which of no, yes and undefined can occur somewhere in the box.
// In one world, no `and` undefined is no; yes `or` undefined is yes; every other mix with undefined is
// undefined.
#pragma once
#include <cstdint>

namespace mm {

using Bits = std::uint8_t;
inline constexpr Bits may_no = 1, may_yes = 2, may_undef = 4;
inline constexpr Bits surely_no = may_no, surely_yes = may_yes, undecided = may_no | may_yes, anything = 7;
/// Numbers, symbols and entities use the same byte: defined somewhere, undefined somewhere.
inline constexpr Bits defined = may_yes;

constexpr Bits not_bits(Bits a) {
  return static_cast<Bits>(((a & may_no) << 1) | ((a & may_yes) >> 1) | (a & may_undef));
}

constexpr Bits and_bits(Bits a, Bits b) {
  const bool undefined = ((a & may_undef) != 0 && (b & (may_yes | may_undef)) != 0) ||
                         ((b & may_undef) != 0 && (a & may_yes) != 0);
  return static_cast<Bits>(((a | b) & may_no) | (a & b & may_yes) | (undefined ? may_undef : 0));
}

constexpr Bits or_bits(Bits a, Bits b) { return not_bits(and_bits(not_bits(a), not_bits(b))); }

/// if a then b else c.
constexpr Bits choose_bits(Bits a, Bits b, Bits c) {
  return static_cast<Bits>(((a & may_yes) != 0 ? b : 0) | ((a & may_no) != 0 ? c : 0) | (a & may_undef));
}

/// One kind of outcome only.
constexpr bool is_single(Bits a) { return a == may_no || a == may_yes || a == may_undef; }

/// How a truth, or a symbol, moves as the active variable grows (dual machines only).
using Direction = std::uint8_t;
inline constexpr Direction still = 0, may_rise = 1, may_fall = 2, may_move = 3;

/// Of its denial, or of the number's negative.
constexpr Direction turned(Direction a) {
  return static_cast<Direction>(((a & may_rise) << 1) | ((a & may_fall) >> 1));
}

}  // namespace mm

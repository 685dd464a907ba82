// What a register's value hangs on: of which changes of the box, and of which quantifiers' variables, it must
// be worked out anew.
#pragma once
#include <algorithm>
#include <cstdint>

#include "model/build.hpp"

namespace mm {

/// A set: a bit for each quantifier's variable, bits for open cells, many to a bit, and one for how finely a
/// continuous range is cut.
using Hangs = std::uint64_t;
inline constexpr Hangs on_nothing = 0, on_anything = ~Hangs{0}, on_fineness = Hangs{1} << 63U;
inline constexpr std::uint32_t shared_slot = 30;  // slots from here on share a bit
inline constexpr std::uint32_t cell_bits_from = 31, cell_bits = 32;
inline constexpr Hangs on_any_slot = (Hangs{1} << cell_bits_from) - 1;
inline constexpr Hangs on_slot(std::uint32_t slot) { return Hangs{1} << std::min(slot, shared_slot); }
inline constexpr Hangs on_cell(CellId cell) {
  return cell ? Hangs{1} << (cell_bits_from + cell.index % cell_bits) : on_nothing;
}
/// What of `inner` is left outside the quantifier that binds the slot.
inline constexpr Hangs outside_of(Hangs inner, std::uint32_t slot) {
  return slot < shared_slot ? inner & ~on_slot(slot) : inner;
}

}  // namespace mm

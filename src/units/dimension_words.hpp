// The words of the trade for dimensions, one row a word; the first word of equal rows names the dimension.
#pragma once
#include <array>
#include <span>
#include <string_view>

#include "units/dimension.hpp"

namespace mm {

/// Whole exponents in the order of BaseDimension.
struct DimensionWord {
  std::string_view word;
  std::array<std::int8_t, base_dimension_count> exponents;
  QuantityTag tag = QuantityTag::none;

  Dimension dimension() const;
};

std::span<const DimensionWord> dimension_word_table();
/// nullptr when the word names no dimension.
const DimensionWord* find_dimension_word(std::string_view word);

}  // namespace mm

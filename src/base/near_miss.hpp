// "Did you mean": the nearest of some known names to one that was not found.
#pragma once
#include <span>
#include <string>
#include <string_view>

namespace mm {

/// The candidate with the least edit distance (insert, delete, change, swap of neighbours), or "" when
/// none is within a third of the longer name's length (at least one). Ties go to the first candidate;
/// the name itself is none.
/// Names over 64 bytes are passed over, so that hostile text stays cheap.
std::string nearest_name(std::string_view wanted, std::span<const std::string_view> candidates);

}  // namespace mm

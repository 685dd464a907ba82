// How a value is known, as it is written behind "per".
#pragma once
#include <algorithm>
#include <array>
#include <string_view>

namespace mm {

inline constexpr std::array<std::string_view, 5> grades = {"measured", "tried", "published", "claimed",
                                                           "hearsay"};

constexpr bool is_grade(std::string_view word) {
  return std::find(grades.begin(), grades.end(), word) != grades.end();
}

}  // namespace mm

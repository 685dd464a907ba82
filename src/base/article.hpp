// "a bracket", "an axle": before names that a file chose.
#pragma once
#include <string>
#include <string_view>

namespace mm {

/// By its first letters: "an upright", but "a union", "a u_bolt" and "a EUR".
inline std::string with_article(std::string_view name) {
  constexpr std::string_view vowels = "aeiouAEIOU";
  const bool spoken_as_you = name.starts_with("u_") || name.starts_with("uni") || name.starts_with("use") ||
                             name == "u" || name.starts_with("eu") || name.starts_with("EU") ||
                             name.starts_with("US");
  const bool vowel = !name.empty() && vowels.find(name.front()) != std::string_view::npos && !spoken_as_you;
  return (vowel ? "an " : "a ") + std::string(name);
}

}  // namespace mm

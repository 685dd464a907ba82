// A remedy like "a jack of at least {load}" with a load of 830..900 kg: only the upper end is safe to buy by.
#include <array>
#include <string_view>

#include "report/phrases.hpp"

namespace mm {

namespace {

/// Length of the number at the start of the text, with its sign and exponent; 0 for none. A range's ".." ends
/// it.
std::size_t number_length(std::string_view text) {
  const auto digit = [&](std::size_t i) { return i < text.size() && text[i] >= '0' && text[i] <= '9'; };
  std::size_t i = text.starts_with('-') ? 1 : 0;
  if (!digit(i)) return 0;
  while (digit(i)) ++i;
  if (i < text.size() && text[i] == '.' && digit(i + 1))
    for (++i; digit(i);) ++i;
  if (i < text.size() && text[i] == 'e' && (digit(i + 1) || digit(i + 2)))
    for (i += 2; digit(i);) ++i;
  return i;
}

}  // namespace

std::string safe_ends(std::string text) {
  struct Rule {
    std::string_view words;
    bool upper;
  };
  static constexpr std::array<Rule, 2> rules = {{{"at least ", true}, {"at most ", false}}};
  for (const Rule& rule : rules) {
    for (std::size_t at = text.find(rule.words); at != std::string::npos;
         at = text.find(rule.words, at + 1)) {
      const std::size_t lo = at + rule.words.size();
      const std::size_t lo_length = number_length(std::string_view(text).substr(lo));
      const std::size_t dots = lo + lo_length;
      if (lo_length == 0 || text.compare(dots, 2, "..") != 0) continue;
      const std::size_t hi_length = number_length(std::string_view(text).substr(dots + 2));
      if (hi_length == 0) continue;
      if (rule.upper)
        text.erase(lo, lo_length + 2);
      else
        text.erase(dots, 2 + hi_length);
    }
  }
  return text;
}

}  // namespace mm

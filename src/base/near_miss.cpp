#include "base/near_miss.hpp"

#include <algorithm>
#include <array>

namespace mm {
namespace {

constexpr std::size_t longest_name = 64;
using Row = std::array<std::size_t, longest_name + 1>;

/// Optimal string alignment distance (edits, and swaps of neighbours that are not edited again).
std::size_t edit_distance(std::string_view a, std::string_view b) {
  Row before{}, last{}, row{};
  for (std::size_t j = 0; j <= b.size(); ++j) last[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t change = last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
      row[j] = std::min({last[j] + 1, row[j - 1] + 1, change});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
        row[j] = std::min(row[j], before[j - 2] + 1);
      }
    }
    before = last;
    last = row;
  }
  return last[b.size()];
}

bool same_but_for_case(std::string_view a, std::string_view b) {
  const auto small = [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; };
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [&](char x, char y) { return small(x) == small(y); });
}

}  // namespace

std::string nearest_name(std::string_view wanted, std::span<const std::string_view> candidates) {
  if (wanted.empty() || wanted.size() > longest_name) return "";
  std::string_view best;
  std::size_t best_distance = longest_name + 1;
  for (const std::string_view candidate : candidates) {
    if (candidate.empty() || candidate.size() > longest_name || candidate == wanted) continue;
    const std::size_t longer = std::max(wanted.size(), candidate.size());
    const std::size_t shorter = std::min(wanted.size(), candidate.size());
    const std::size_t limit = std::max<std::size_t>(1, longer / 3);
    if (longer - shorter > limit || longer - shorter >= best_distance) continue;
    const std::size_t distance = same_but_for_case(wanted, candidate) ? 1 : edit_distance(wanted, candidate);
    if (distance > limit || distance >= best_distance) continue;
    best = candidate;
    best_distance = distance;
  }
  return std::string(best);
}

}  // namespace mm

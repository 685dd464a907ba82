// A fixed set of words, laid out while compiling: one look tells of nearly every word whether it is in it.
#pragma once
#include <array>
#include <bit>
#include <cstddef>
#include <cstdint>
#include <string_view>

namespace mm {

/// At most 255 words, none empty.
template <std::size_t N>
class WordSet {
 public:
  constexpr explicit WordSet(const std::array<std::string_view, N>& words) : words_(words) {
    static_assert(N < 256);
    for (std::size_t i = 0; i < N; ++i) {
      std::size_t at = place(words[i]);
      while (table_[at] != 0) at = (at + 1) % table_size;
      table_[at] = static_cast<std::uint8_t>(i + 1);
      if (words[i].size() > longest_) longest_ = words[i].size();
    }
  }

  constexpr bool contains(std::string_view word) const {
    if (word.empty() || word.size() > longest_) return false;
    for (std::size_t at = place(word); table_[at] != 0; at = (at + 1) % table_size)
      if (same(words_[table_[at] - 1U], word)) return true;
    return false;
  }
  constexpr std::size_t longest() const { return longest_; }

 private:
  static constexpr std::size_t table_size = std::bit_ceil(4 * N);

  static constexpr std::size_t place(std::string_view word) {
    const auto at = [&](std::size_t i) {
      return static_cast<std::size_t>(static_cast<unsigned char>(word[i]));
    };
    return (at(0) * 13 + at(word.size() / 2) * 57 + at(word.size() - 1) * 101 + word.size() * 29) %
           table_size;
  }
  static constexpr bool same(std::string_view a, std::string_view b) {  // short words: no call
    if (a.size() != b.size()) return false;
    for (std::size_t i = 0; i < a.size(); ++i)
      if (a[i] != b[i]) return false;
    return true;
  }

  std::array<std::string_view, N> words_;
  std::array<std::uint8_t, table_size> table_{};
  std::size_t longest_ = 0;
};

}  // namespace mm

#include "base/names.hpp"

#include <algorithm>

#include "base/hash.hpp"

namespace mm {

namespace {

/// Names that differ in their last character alone, as numbered ones do, lie side by side in the table: a
/// text that brings them up one after another finds them in few lines of the cache. Where in their row the
/// first of them lies is as good as random, so that two rows in one place get less in each other's way.
std::uint64_t row_hash(std::string_view text) {
  if (text.empty()) return 0;
  constexpr std::uint64_t row = 16;
  const auto last = static_cast<unsigned char>(text.back());
  const std::uint64_t before = hash_of(text.substr(0, text.size() - 1));
  return (before ^ (std::uint64_t{last / row} << 24U)) * row + (last + (before >> 40U)) % row;
}

}  // namespace

Symbol Names::intern(std::string_view text) {
  const std::uint64_t hash = row_hash(text);
  const std::uint32_t known = index_.find(hash, [&](std::uint32_t i) { return same_text(texts_[i], text); });
  if (known != IndexTable::none) return Symbol{known};
  const Symbol symbol{texts_.size()};
  texts_.push_back(keep(text));
  index_.add(hash, symbol.index);
  return symbol;
}

Symbol Names::find(std::string_view text) const {
  return Symbol{index_.find(row_hash(text), [&](std::uint32_t i) { return same_text(texts_[i], text); })};
}

std::string_view Names::keep(std::string_view text) {
  constexpr std::size_t block_size = 8192;
  if (text.size() > left_) {
    left_ = std::max(block_size, text.size());
    blocks_.push_back(std::make_unique_for_overwrite<char[]>(left_));
    free_ = blocks_.back().get();
  }
  const std::string_view kept(free_, text.size());
  free_ = std::copy(text.begin(), text.end(), free_);
  left_ -= text.size();
  return kept;
}

}  // namespace mm

#include "base/names.hpp"

#include <algorithm>

#include "base/hash.hpp"

namespace mm {

Symbol Names::intern(std::string_view text) {
  const std::uint64_t hash = hash_of(text);
  const std::uint32_t known = index_.find(hash, [&](std::uint32_t i) { return same_text(texts_[i], text); });
  if (known != IndexTable::none) return Symbol{known};
  const Symbol symbol{texts_.size()};
  texts_.push_back(keep(text));
  index_.add(hash, symbol.index);
  return symbol;
}

Symbol Names::find(std::string_view text) const {
  return Symbol{index_.find(hash_of(text), [&](std::uint32_t i) { return same_text(texts_[i], text); })};
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

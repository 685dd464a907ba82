// A map from symbols to small values that lies in two flat lists, for as many names as a catalogue holds.
#pragma once
#include <utility>
#include <vector>

#include "base/hash.hpp"
#include "base/names.hpp"

namespace mm {

/// Iterates as pairs, in order of insertion.
template <class V>
class SymbolMap {
 public:
  using Entry = std::pair<Symbol, V>;

  /// The value of the key, and whether it was put in now.
  std::pair<V*, bool> try_emplace(Symbol key, V value) {
    const std::uint64_t hash = hash_of(key);
    const std::uint32_t known = index_.find(hash, [&](std::uint32_t i) { return entries_[i].first == key; });
    if (known != IndexTable::none) return {&entries_[known].second, false};
    index_.add(hash, static_cast<std::uint32_t>(entries_.size()));
    entries_.emplace_back(key, std::move(value));
    return {&entries_.back().second, true};
  }
  const V* find(Symbol key) const {
    const std::uint32_t at =
        index_.find(hash_of(key), [&](std::uint32_t i) { return entries_[i].first == key; });
    return at == IndexTable::none ? nullptr : &entries_[at].second;
  }
  std::size_t size() const { return entries_.size(); }
  auto begin() const { return entries_.begin(); }
  auto end() const { return entries_.end(); }

 private:
  /// Names that a text brings up one after another lie side by side, eight in a line of the cache.
  static std::uint64_t hash_of(Symbol key) {
    constexpr std::uint32_t line = 8;
    return mixed(key.index / line, 0) * line + key.index % line;
  }

  std::vector<Entry> entries_;
  IndexTable index_;
};

}  // namespace mm

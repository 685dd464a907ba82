// Interned names: equal text, equal Symbol.
#pragma once
#include <deque>
#include <string>
#include <string_view>
#include <unordered_map>

#include "base/ids.hpp"

namespace mm {

struct SymbolTag;
using Symbol = Id<SymbolTag>;

/// Owns the text of every name in a run. Symbols are handed out in order of first use.
class Names {
 public:
  Symbol intern(std::string_view text);
  /// The symbol of a text that was interned before, or none.
  Symbol find(std::string_view text) const;
  std::string_view text(Symbol symbol) const { return texts_[symbol.index]; }
  std::size_t size() const { return texts_.size(); }

 private:
  std::deque<std::string> texts_;
  std::unordered_map<std::string_view, Symbol> index_;
};

}  // namespace mm

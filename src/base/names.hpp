// Interned names: equal text, equal Symbol.
#pragma once
#include <memory>
#include <string_view>
#include <vector>

#include "base/ids.hpp"
#include "base/index_table.hpp"

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
  /// The same names, to which others are added than here. What they are now must stay.
  Names beside() const {
    Names out;
    out.texts_ = texts_;
    out.index_ = index_;
    return out;
  }

 private:
  std::string_view keep(std::string_view text);

  std::vector<std::string_view> texts_;
  IndexTable index_;
  std::vector<std::unique_ptr<char[]>> blocks_;  // of characters
  char* free_ = nullptr;
  std::size_t left_ = 0;
};

}  // namespace mm

#include "base/names.hpp"

namespace mm {

Symbol Names::intern(std::string_view text) {
  if (auto found = index_.find(text); found != index_.end()) return found->second;
  const Symbol symbol{texts_.size()};
  texts_.emplace_back(text);
  index_.emplace(texts_.back(), symbol);
  return symbol;
}

Symbol Names::find(std::string_view text) const {
  auto found = index_.find(text);
  return found == index_.end() ? Symbol::none() : found->second;
}

}  // namespace mm

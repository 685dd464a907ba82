// The derived values of one owner (a kind, interface or rule), found by name.
#pragma once
#include <unordered_map>
#include <vector>

#include "syntax/tree.hpp"

namespace mm {

class Lets {
 public:
  /// The list must stay.
  explicit Lets(const std::vector<LetDecl>& list) : list_(&list), sound_(list.size()) {
    for (std::uint32_t i = 0; i < list.size(); ++i) at_.try_emplace(list[i].name.symbol, i);
  }
  std::size_t size() const { return list_->size(); }
  const LetDecl& operator[](std::size_t i) const { return (*list_)[i]; }
  /// Its place, where it is among the first `seen`; else `seen`.
  std::size_t find(Symbol name, std::size_t seen) const {
    const auto found = at_.find(name);
    return found != at_.end() && found->second < seen ? found->second : seen;
  }
  /// A program was made of it, without a fault and as it stands: it need not be checked once more.
  void set_sound(std::size_t i) const { sound_[i] = true; }
  bool is_sound(std::size_t i) const { return sound_[i]; }

 private:
  const std::vector<LetDecl>* list_;
  std::unordered_map<Symbol, std::uint32_t> at_;
  mutable std::vector<bool> sound_;
};

}  // namespace mm

// Typed indices with an explicit none, and append-only stores keyed by them.
#pragma once
#include <cassert>
#include <compare>
#include <cstddef>
#include <cstdint>
#include <deque>
#include <functional>
#include <utility>
#include <vector>

namespace mm {

/// An index into one store, typed by a tag so that ids of two stores cannot be mixed up.
template <class Tag>
struct Id {
  static constexpr std::uint32_t none_index = 0xffffffffU;
  std::uint32_t index = none_index;

  constexpr Id() = default;
  constexpr explicit Id(std::uint32_t i) : index(i) {}
  constexpr explicit Id(std::size_t i) : index(static_cast<std::uint32_t>(i)) {}
  static constexpr Id none() { return Id{}; }
  constexpr bool is_none() const { return index == none_index; }
  constexpr explicit operator bool() const { return index != none_index; }
  constexpr auto operator<=>(const Id&) const = default;
};

/// Append-only store: an id stays valid as long as the store lives; references do not survive an add.
template <class T, class IdT, class Items = std::vector<T>>
class Store {
 public:
  IdT add(T value) {
    items_.push_back(std::move(value));
    return IdT{items_.size() - 1};
  }
  T& operator[](IdT id) {
    assert(id.index < items_.size());
    return items_[id.index];
  }
  const T& operator[](IdT id) const {
    assert(id.index < items_.size());
    return items_[id.index];
  }
  std::size_t size() const { return items_.size(); }
  bool empty() const { return items_.empty(); }
  IdT id_at(std::size_t i) const { return IdT{i}; }
  auto begin() const { return items_.begin(); }
  auto end() const { return items_.end(); }
  auto begin() { return items_.begin(); }
  auto end() { return items_.end(); }

 private:
  Items items_;
};

/// A store that grows without copying what it holds, for the largest lists.
template <class T, class IdT>
using BlockStore = Store<T, IdT, std::deque<T>>;

}  // namespace mm

template <class Tag>
struct std::hash<mm::Id<Tag>> {
  std::size_t operator()(mm::Id<Tag> id) const noexcept { return id.index; }
};

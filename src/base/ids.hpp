// Typed indices with an explicit none, and append-only stores keyed by them.
#pragma once
#include <algorithm>
#include <bit>
#include <cassert>
#include <compare>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <iterator>
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
template <class T, class IdT>
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
  void reserve(std::size_t size) { items_.reserve(size); }
  std::size_t size() const { return items_.size(); }
  bool empty() const { return items_.empty(); }
  IdT id_at(std::size_t i) const { return IdT{i}; }
  auto begin() const { return items_.begin(); }
  auto end() const { return items_.end(); }
  auto begin() { return items_.begin(); }
  auto end() { return items_.end(); }

 private:
  std::vector<T> items_;
};

/// Ids that follow each other in one store.
template <class IdT>
struct IdRange {
  IdT first;
  std::uint32_t count = 0;

  constexpr std::size_t size() const { return count; }
  constexpr bool empty() const { return count == 0; }
  constexpr IdT operator[](std::size_t i) const { return IdT{first.index + i}; }
  constexpr bool operator==(const IdRange&) const = default;

  class Iterator {
   public:
    constexpr explicit Iterator(IdT at) : at_(at) {}
    constexpr IdT operator*() const { return at_; }
    constexpr Iterator& operator++() {
      ++at_.index;
      return *this;
    }
    constexpr bool operator==(const Iterator&) const = default;

   private:
    IdT at_;
  };
  constexpr Iterator begin() const { return Iterator{first}; }
  constexpr Iterator end() const { return Iterator{IdT{first.index + count}}; }
};

/// Append-only store for the largest lists: it grows block by block, so that nothing is copied and references
/// survive an add. `at_first`: for stores of which there may be many, the items that the first block has room
/// for; it is copied to grow, and only what lies in the others stays in place.
template <class T, class IdT, std::size_t at_first = 0>
class BlockStore {
 public:
  /// The items of an IdRange, or of the whole store, in order.
  class View {
   public:
    class Iterator {
     public:
      using iterator_category = std::forward_iterator_tag;
      using value_type = T;
      using difference_type = std::ptrdiff_t;
      using pointer = const T*;
      using reference = const T&;
      Iterator() = default;
      Iterator(const BlockStore* store, std::size_t at) : store_(store), at_(at) {}
      reference operator*() const { return (*store_)[IdT{at_}]; }
      pointer operator->() const { return &**this; }
      Iterator& operator++() {
        ++at_;
        return *this;
      }
      Iterator operator++(int) {
        const Iterator before = *this;
        ++at_;
        return before;
      }
      bool operator==(const Iterator&) const = default;

     private:
      const BlockStore* store_ = nullptr;
      std::size_t at_ = 0;
    };

    View(const BlockStore* store, std::size_t first, std::size_t count)
        : store_(store), first_(first), count_(count) {}
    Iterator begin() const { return {store_, first_}; }
    Iterator end() const { return {store_, first_ + count_}; }
    std::size_t size() const { return count_; }
    const T& operator[](std::size_t i) const { return (*store_)[IdT{first_ + i}]; }
    const T& front() const { return (*this)[0]; }

   private:
    const BlockStore* store_;
    std::size_t first_, count_;
  };

  template <class... Arguments>
  IdT emplace(Arguments&&... arguments) {
    if (size_ % block_size == 0) {
      blocks_.emplace_back();
      blocks_.back().reserve(size_ == 0 && at_first != 0 ? at_first : block_size);
    }
    blocks_.back().emplace_back(std::forward<Arguments>(arguments)...);
    return IdT{size_++};
  }
  IdT add(T value) { return emplace(std::move(value)); }
  T& operator[](IdT id) {
    assert(id.index < size_);
    return blocks_[id.index / block_size][id.index % block_size];
  }
  const T& operator[](IdT id) const {
    assert(id.index < size_);
    return blocks_[id.index / block_size][id.index % block_size];
  }
  View operator[](IdRange<IdT> range) const {
    return {this, range.empty() ? 0 : range.first.index, range.size()};
  }
  std::size_t size() const { return size_; }
  bool empty() const { return size_ == 0; }
  typename View::Iterator begin() const { return {this, 0}; }
  typename View::Iterator end() const { return {this, size_}; }

 private:
  static constexpr std::size_t block_size = std::bit_floor(std::max<std::size_t>(8192 / sizeof(T), 16));
  std::vector<std::vector<T>> blocks_;
  std::size_t size_ = 0;
};

}  // namespace mm

template <class Tag>
struct std::hash<mm::Id<Tag>> {
  std::size_t operator()(mm::Id<Tag> id) const noexcept { return id.index; }
};

// Many short lists in few blocks of memory.
#pragma once
#include <cstddef>
#include <cstdint>
#include <deque>
#include <vector>

namespace mm {

/// A list that lies in a Runs and may be used as long as that lives.
template <class T>
class Run {
 public:
  Run() = default;
  Run(const T* first, std::size_t size) : first_(first), size_(static_cast<std::uint32_t>(size)) {}

  const T* begin() const { return first_; }
  const T* end() const { return first_ + size_; }
  std::size_t size() const { return size_; }
  bool empty() const { return size_ == 0; }
  const T& operator[](std::size_t i) const { return first_[i]; }
  const T& front() const { return first_[0]; }
  const T& back() const { return first_[size_ - 1]; }

 private:
  const T* first_ = nullptr;
  std::uint32_t size_ = 0;
};

/// Append-only; what was added keeps its address, also when the store is moved.
template <class T>
class Runs {
 public:
  template <class List>
  Run<T> add(const List& list) {
    if (blocks_.empty() || blocks_.back().capacity() - blocks_.back().size() < list.size()) {
      blocks_.emplace_back();
      blocks_.back().reserve(list.size() > block_size ? list.size() : block_size);
    }
    std::vector<T>& block = blocks_.back();
    block.insert(block.end(), list.begin(), list.end());
    return {block.data() + (block.size() - list.size()), list.size()};
  }

  /// All that was added, wherever it is used, to be changed in place.
  template <class Change>
  void change_all(Change&& change) {
    for (std::vector<T>& block : blocks_)
      for (T& item : block) change(item);
  }
  /// Takes over what another one holds; its runs stay good.
  void adopt(Runs&& other) {
    for (std::vector<T>& block : other.blocks_)
      blocks_.push_front(std::move(block));  // the last is filled on
    other.blocks_.clear();
  }

 private:
  static constexpr std::size_t block_size = 256;
  std::deque<std::vector<T>> blocks_;
};

}  // namespace mm

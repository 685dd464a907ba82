// A list that nearly always holds one item: that one lies in it, without room of its own.
#pragma once
#include <cstddef>
#include <memory>
#include <utility>
#include <vector>

namespace mm {

/// Reads as a std::vector does; copies are deep.
template <class T>
class MostlyOne {
 public:
  MostlyOne() = default;
  MostlyOne(const MostlyOne& other)
      : many_(other.many_ ? std::make_unique<std::vector<T>>(*other.many_) : nullptr),
        has_one_(other.has_one_),
        one_(other.one_) {}
  MostlyOne(MostlyOne&&) noexcept = default;
  MostlyOne& operator=(const MostlyOne& other) { return *this = MostlyOne(other); }
  MostlyOne& operator=(MostlyOne&&) noexcept = default;
  ~MostlyOne() = default;

  std::size_t size() const { return many_ ? many_->size() : has_one_ ? 1 : 0; }
  bool empty() const { return size() == 0; }
  T* begin() { return many_ ? many_->data() : &one_; }
  const T* begin() const { return many_ ? many_->data() : &one_; }
  T* end() { return begin() + size(); }
  const T* end() const { return begin() + size(); }
  T& operator[](std::size_t i) { return begin()[i]; }
  const T& operator[](std::size_t i) const { return begin()[i]; }

  void push_back(T item) {
    if (empty() && !many_) {
      one_ = std::move(item);
      has_one_ = true;
      return;
    }
    if (!many_) {
      many_ = std::make_unique<std::vector<T>>();
      many_->push_back(std::move(one_));
    }
    many_->push_back(std::move(item));
  }
  void clear() { *this = MostlyOne(); }

 private:
  // first how many there are, so that it lies beside what is asked first of the one
  std::unique_ptr<std::vector<T>> many_;  // all of them, once there were two
  bool has_one_ = false;
  T one_{};  // where `many_` is not
};

}  // namespace mm

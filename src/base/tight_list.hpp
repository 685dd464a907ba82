// A list of small items that is written once and then only read: one pointer, and the items behind their
// number.
#pragma once
#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <memory>
#include <span>
#include <type_traits>

namespace mm {

/// Copies are deep.
template <class T>
class TightList {
  static_assert(std::is_trivially_copyable_v<T> && alignof(T) <= alignof(std::size_t));

 public:
  TightList() = default;
  TightList(std::span<const T> items) {
    if (items.empty()) return;
    bytes_ = std::make_unique_for_overwrite<std::byte[]>(items_at + items.size_bytes());
    const auto count = static_cast<Count>(items.size());
    std::memcpy(bytes_.get(), &count, sizeof count);
    std::memcpy(bytes_.get() + items_at, items.data(), items.size_bytes());
  }
  TightList(const TightList& other) : TightList(std::span<const T>(other)) {}
  TightList(TightList&&) noexcept = default;
  TightList& operator=(const TightList& other) { return *this = TightList(other); }
  TightList& operator=(TightList&&) noexcept = default;
  ~TightList() = default;

  std::size_t size() const {
    Count count = 0;
    if (bytes_) std::memcpy(&count, bytes_.get(), sizeof count);
    return count;
  }
  bool empty() const { return !bytes_; }
  const T* begin() const { return bytes_ ? reinterpret_cast<const T*>(bytes_.get() + items_at) : nullptr; }
  const T* end() const { return begin() + size(); }
  const T& operator[](std::size_t i) const { return begin()[i]; }
  operator std::span<const T>() const { return {begin(), size()}; }
  bool operator==(const TightList& other) const {
    return size() == other.size() && std::equal(begin(), end(), other.begin());
  }

 private:
  using Count = std::uint32_t;
  static constexpr std::size_t items_at = std::max(sizeof(Count), alignof(T));
  std::unique_ptr<std::byte[]> bytes_;
};

}  // namespace mm

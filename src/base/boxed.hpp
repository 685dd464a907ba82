// An optional value that takes one pointer where it is absent: for parts of nodes that most nodes lack.
#pragma once
#include <memory>
#include <optional>
#include <utility>

namespace mm {

/// Copies are deep. Reads as std::optional does.
template <class T>
class Boxed {
 public:
  Boxed() = default;
  Boxed(std::nullopt_t) {}
  Boxed(T value) : value_(std::make_unique<T>(std::move(value))) {}
  Boxed(std::optional<T> value) : value_(value ? std::make_unique<T>(*std::move(value)) : nullptr) {}
  Boxed(const Boxed& other) : value_(other ? std::make_unique<T>(*other) : nullptr) {}
  Boxed(Boxed&&) noexcept = default;
  Boxed& operator=(const Boxed& other) {
    if (this != &other) value_ = other ? std::make_unique<T>(*other) : nullptr;
    return *this;
  }
  Boxed& operator=(Boxed&&) noexcept = default;
  ~Boxed() = default;

  explicit operator bool() const { return value_ != nullptr; }
  bool has_value() const { return value_ != nullptr; }
  T& operator*() { return *value_; }
  const T& operator*() const { return *value_; }
  T* operator->() { return value_.get(); }
  const T* operator->() const { return value_.get(); }

 private:
  std::unique_ptr<T> value_;
};

}  // namespace mm

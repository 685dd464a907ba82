// A list that is nearly always empty: it takes one pointer then.
#pragma once
#include <memory>
#include <utility>
#include <vector>

namespace mm {

/// Reads as a std::vector does; copies are deep.
template <class T>
class Seldom {
 public:
  using List = std::vector<T>;
  using value_type = T;
  using const_iterator = typename List::const_iterator;

  Seldom() = default;
  Seldom(List list) { *this = std::move(list); }
  Seldom(const Seldom& other) { *this = other.get(); }
  Seldom(Seldom&&) noexcept = default;
  Seldom& operator=(List list) {
    list_ = list.empty() ? nullptr : std::make_unique<List>(std::move(list));
    return *this;
  }
  Seldom& operator=(const Seldom& other) { return *this = other.get(); }
  Seldom& operator=(Seldom&&) noexcept = default;
  ~Seldom() = default;

  const List& get() const { return list_ ? *list_ : none; }
  operator const List&() const { return get(); }
  /// To be changed in place.
  List& edit() {
    if (!list_) list_ = std::make_unique<List>();
    return *list_;
  }
  void push_back(T item) { edit().push_back(std::move(item)); }

  const_iterator begin() const { return get().begin(); }
  const_iterator end() const { return get().end(); }
  bool empty() const { return !list_ || list_->empty(); }
  std::size_t size() const { return list_ ? list_->size() : 0; }
  const T& operator[](std::size_t i) const { return (*list_)[i]; }
  const T& front() const { return list_->front(); }
  const T& back() const { return list_->back(); }
  bool operator==(const Seldom& other) const { return get() == other.get(); }

 private:
  static inline const List none;
  std::unique_ptr<List> list_;
};

}  // namespace mm

// The settings of one value that the builder sets: in steps, from a list, or by adding pieces.
#pragma once
#include <cstddef>
#include <vector>

#include "model/build.hpp"

namespace mm {

class BuildIndex;

/// Ascending, in base units. Steps are not written out: a million of them take no room.
class SettingList {
 public:
  /// Of a value that is set without steps: empty.
  SettingList() = default;
  /// Those of a cell; empty too where it is not adjustable, or has more than `most` settings.
  SettingList(const BuildIndex& index, CellId cell);

  static constexpr std::size_t most = std::size_t{1} << 40U;

  bool empty() const { return size_ == 0; }
  std::size_t size() const { return size_; }
  Rational operator[](std::size_t i) const;

  struct Indices {
    std::size_t first = 0, end = 0;
    std::size_t size() const { return end - first; }
  };
  /// Which of them lie in a range.
  Indices within(const ExactInterval& range) const;

 private:
  std::size_t first_at_least(const Rational& value) const;
  std::size_t first_above(const Rational& value) const;

  const std::vector<Rational>* listed_ = nullptr;  // the model's; null: in steps
  Rational from_ = 0, step_ = 1;
  std::size_t size_ = 0;
};

}  // namespace mm

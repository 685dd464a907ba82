// Bounds of numbers, one after another, in the form that takes least to read. Builds say few numbers many
// times: where they do, each is kept once, and one byte tells which one stands at a place instead of sixteen.
#pragma once
#include <cstdint>
#include <vector>

#include "base/index_table.hpp"
#include "interval/interval.hpp"

namespace mm {

/// Filled by `add`, then `finish`; read after that. Numbers come out bit by bit as they were given.
class ColumnNumbers {
 public:
  enum class Form : std::uint8_t {
    coded,   // codes, each the place of a number among the distinct ones
    points,  // hi; -hi is the other bound
    bounds,  // neg_lo and hi
  };

  void add(const Interval& number);
  void finish();

  Form form() const { return form_; }
  std::size_t size() const { return form_ == Form::coded ? codes_.size() : hi_.size(); }
  /// Finite all, and none negative (interval_pack.hpp).
  bool plain() const { return plain_; }
  Interval operator[](std::size_t at) const {
    if (form_ == Form::coded) return distinct_[codes_[at]];
    return {form_ == Form::points ? -hi_[at] : neg_lo_[at], hi_[at]};
  }
  const std::uint8_t* codes() const { return codes_.data(); }
  const Interval* distinct() const { return distinct_.data(); }
  const double* neg_lo() const { return neg_lo_.data(); }
  const double* hi() const { return hi_.data(); }

 private:
  void give_up_codes();

  Form form_ = Form::coded;
  bool plain_ = false;
  std::vector<std::uint8_t> codes_;
  std::vector<Interval> distinct_;
  IndexTable known_;  // while it is filled: numbers' codes, by their bits
  std::vector<double> neg_lo_, hi_;
};

}  // namespace mm

#include "evaluate/column_numbers.hpp"

#include <algorithm>
#include <bit>

#include "base/give_back.hpp"
#include "base/hash.hpp"
#include "interval/interval_pack.hpp"

namespace mm {

namespace {

constexpr std::size_t most_distinct = 256;
constexpr std::size_t fewest_places = 4;  // of a number, on average: else codes save no reading

std::uint64_t bits_of(double x) { return std::bit_cast<std::uint64_t>(x); }

}  // namespace

void ColumnNumbers::give_up_codes() {
  neg_lo_.reserve(codes_.capacity());
  hi_.reserve(codes_.capacity());
  for (const std::uint8_t code : codes_) {
    neg_lo_.push_back(distinct_[code].neg_lo);
    hi_.push_back(distinct_[code].hi);
  }
  give_back(codes_);
  give_back(distinct_);
  form_ = Form::bounds;
}

void ColumnNumbers::add(const Interval& number) {
  if (form_ == Form::coded) {
    const std::uint64_t neg_lo = bits_of(number.neg_lo), hi = bits_of(number.hi), hash = mixed(neg_lo, hi);
    std::uint32_t code = known_.find(hash, [&](std::uint32_t at) {
      return bits_of(distinct_[at].neg_lo) == neg_lo && bits_of(distinct_[at].hi) == hi;
    });
    if (code == IndexTable::none && distinct_.size() < most_distinct) {
      code = static_cast<std::uint32_t>(distinct_.size());
      known_.add(hash, code);
      distinct_.push_back(number);
    }
    if (code != IndexTable::none) return codes_.push_back(static_cast<std::uint8_t>(code));
    give_up_codes();
  }
  neg_lo_.push_back(number.neg_lo);
  hi_.push_back(number.hi);
}

void ColumnNumbers::finish() {
  if (form_ == Form::coded && distinct_.size() * fewest_places > codes_.size()) give_up_codes();
  known_ = {};
  if (form_ == Form::coded) {
    plain_ = std::all_of(distinct_.begin(), distinct_.end(),
                         [](const Interval& one) { return all_plain(&one.neg_lo, &one.hi, 1); });
    return;
  }
  plain_ = all_plain(neg_lo_.data(), hi_.data(), hi_.size());
  if (!std::equal(neg_lo_.begin(), neg_lo_.end(), hi_.begin(),
                  [](double neg_lo, double hi) { return -neg_lo == hi; }))
    return;
  form_ = Form::points;
  give_back(neg_lo_);
}

}  // namespace mm

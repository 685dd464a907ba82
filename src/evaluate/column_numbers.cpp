#include "evaluate/column_numbers.hpp"

#include <algorithm>
#include <bit>

#include "interval/interval_pack.hpp"

namespace mm {

namespace {

constexpr std::size_t most_distinct = 256;
constexpr std::size_t fewest_places = 4;  // of a number, on average: else codes save no reading
constexpr std::size_t first_slots = 64;
constexpr std::uint16_t no_code = 0xffff;

bool same_bits(const Interval& a, const Interval& b) {
  const auto bits = [](double x) { return std::bit_cast<std::uint64_t>(x); };
  return bits(a.neg_lo) == bits(b.neg_lo) && bits(a.hi) == bits(b.hi);
}

}  // namespace

/// Where its code is, or would be. The number of slots is a power of two.
std::size_t ColumnNumbers::slot_of(const Interval& number) const {
  const std::uint64_t mixed = (std::bit_cast<std::uint64_t>(number.neg_lo) * 0x9e37'79b9'7f4a'7c15ULL) ^
                              std::bit_cast<std::uint64_t>(number.hi);
  std::size_t slot = (mixed * 0xd6e8'feb8'6659'fd93ULL) >> 40U;
  for (;; ++slot) {
    slot &= slots_.size() - 1;
    if (slots_[slot] == no_code || same_bits(distinct_[slots_[slot]], number)) return slot;
  }
}

void ColumnNumbers::widen_slots() {
  slots_.assign(std::max(first_slots, 2 * slots_.size()), no_code);
  for (std::size_t code = 0; code < distinct_.size(); ++code)
    slots_[slot_of(distinct_[code])] = static_cast<std::uint16_t>(code);
}

void ColumnNumbers::give_up_codes() {
  neg_lo_.reserve(codes_.capacity());
  hi_.reserve(codes_.capacity());
  for (const std::uint8_t code : codes_) {
    neg_lo_.push_back(distinct_[code].neg_lo);
    hi_.push_back(distinct_[code].hi);
  }
  codes_ = {};
  distinct_ = {};
  slots_ = {};
  form_ = Form::bounds;
}

void ColumnNumbers::add(const Interval& number) {
  if (form_ == Form::coded) {
    if (4 * distinct_.size() >= slots_.size()) widen_slots();
    const std::size_t slot = slot_of(number);
    if (slots_[slot] != no_code) return codes_.push_back(static_cast<std::uint8_t>(slots_[slot]));
    if (distinct_.size() < most_distinct) {
      slots_[slot] = static_cast<std::uint16_t>(distinct_.size());
      codes_.push_back(static_cast<std::uint8_t>(distinct_.size()));
      return distinct_.push_back(number);
    }
    give_up_codes();
  }
  neg_lo_.push_back(number.neg_lo);
  hi_.push_back(number.hi);
}

void ColumnNumbers::finish() {
  if (form_ == Form::coded && distinct_.size() * fewest_places > codes_.size()) give_up_codes();
  slots_ = {};
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
  neg_lo_ = {};
}

}  // namespace mm

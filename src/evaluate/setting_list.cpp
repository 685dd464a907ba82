#include "evaluate/setting_list.hpp"

#include <algorithm>

#include "evaluate/build_index.hpp"

namespace mm {

SettingList::SettingList(const BuildIndex& index, CellId id) {
  const Cell& cell = index.build.cells[id];
  if ((cell.flags & cell_adjustable) == 0 || !cell.given) return;
  const auto& adjustment = index.build.givens[cell.given].adjustment;
  if (adjustment && !adjustment->settings.empty()) {
    listed_ = &adjustment->settings;
    size_ = listed_->size();
    return;
  }
  const ExactInterval& range = index.exact(id);
  if (range.empty || range.lo_infinite || range.hi_infinite) return;
  if (adjustment && adjustment->step)
    step_ = *adjustment->step;
  else if ((cell.flags & cell_integer) == 0)
    return;
  const auto steps = whole_word(floor((range.hi_value - range.lo_value) / step_));
  if (!steps || *steps < 0 || static_cast<std::size_t>(*steps) >= most) return;
  from_ = range.lo_value;
  size_ = static_cast<std::size_t>(*steps) + 1;
}

Rational SettingList::operator[](std::size_t i) const {
  return listed_ != nullptr ? (*listed_)[i] : from_ + step_ * Rational(i);
}

std::size_t SettingList::first_at_least(const Rational& value) const {
  if (listed_ != nullptr)
    return static_cast<std::size_t>(std::lower_bound(listed_->begin(), listed_->end(), value) -
                                    listed_->begin());
  if (value <= from_) return 0;
  const auto steps = whole_word(ceil((value - from_) / step_));
  return steps ? std::min(static_cast<std::size_t>(*steps), size_) : size_;
}

std::size_t SettingList::first_above(const Rational& value) const {
  const std::size_t at = first_at_least(value);
  return at < size_ && (*this)[at] == value ? at + 1 : at;
}

SettingList::Indices SettingList::within(const ExactInterval& range) const {
  if (range.empty) return {};
  const std::size_t first = range.lo_infinite ? 0 : first_at_least(range.lo_value);
  const std::size_t end = range.hi_infinite ? size_ : first_above(range.hi_value);
  return {first, std::max(first, end)};
}

}  // namespace mm

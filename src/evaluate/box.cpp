#include "evaluate/box.hpp"

namespace mm {

ExactInterval Box::exact(CellId cell) const {
  const std::uint32_t at = narrowed_.find(cell);
  if (at == as_given) return index_->exact(cell);
  const Range& range = ranges_[at];
  switch (range.told) {
    case Range::Told::doubles:
      return intersect(ExactInterval::from(range.number), index_->exact(cell));
    case Range::Told::point:
      return ExactInterval::point(*range.point);
    case Range::Told::exactly:
      break;
  }
  return range.exact;
}

std::uint32_t Box::take() {
  if (unused_.empty()) {
    ranges_.emplace_back();
    return static_cast<std::uint32_t>(ranges_.size() - 1);
  }
  const std::uint32_t at = unused_.back();
  unused_.pop_back();
  return at;
}

Box::Range& Box::own(CellId cell) {
  changes(cell);
  std::uint32_t at = narrowed_.find(cell);
  if (at == as_given) {
    at = take();
    narrowed_.set(cell, at);
  }
  return ranges_[at];
}

void Box::narrow(CellId cell, const Interval& range) {
  Range& mine = own(cell);
  mine.told = Range::Told::doubles;
  mine.number = range;
  mine.point = nullptr;
  mine.symbols = nullptr;
}

void Box::narrow_exact(CellId cell, const ExactInterval& range) {
  Range& mine = own(cell);
  mine.told = Range::Told::exactly;
  mine.exact = range;
  mine.number = to_interval(range);
  mine.point = range.is_point() ? &mine.exact.lo_value : nullptr;
  mine.symbols = nullptr;
}

void Box::narrow_symbols(CellId cell, const SymbolicSet* set) {
  if (set == index_->symbols(cell)) return release(cell);
  Range& mine = own(cell);
  mine.told = Range::Told::exactly;
  mine.exact = index_->exact(cell);
  mine.number = index_->number(cell);
  mine.point = index_->point(cell);
  mine.symbols = set;
}

void Box::release(CellId cell) {
  const std::uint32_t at = narrowed_.find(cell);
  if (at == as_given) return;
  changes(cell);
  unused_.push_back(at);
  narrowed_.erase(cell);
}

const ExactInterval& Box::range_of(CellId cell) {
  const std::uint32_t at = narrowed_.find(cell);
  if (at == as_given) return index_->exact(cell);
  if (ranges_[at].told == Range::Told::doubles) narrow_exact(cell, exact(cell));
  return ranges_[at].exact;
}

bool Box::to_end(CellId cell, bool high) {
  if (point(cell) != nullptr) return true;
  const ExactInterval& range = range_of(cell);
  if (range.empty || (high ? range.hi_infinite : range.lo_infinite)) return false;
  const Interval number = this->number(cell);
  if (high)
    stand_at(cell, range.hi_value, Interval::of(round_down(range.hi_value), number.hi));
  else
    stand_at(cell, range.lo_value, Interval::of(number.lo(), round_up(range.lo_value)));
  return true;
}

void Box::to_some_point(CellId cell) {
  static const Rational zero = 0;
  if (!to_end(cell, false) && !to_end(cell, true) && !range_of(cell).empty)
    stand_at(cell, zero, Interval::point(0));
}

void Box::stand_at(CellId cell, const Rational& point, const Interval& number) {
  changes(cell);
  const std::uint32_t at = take();
  Range& end = ranges_[at];
  end.told = Range::Told::point;
  end.number = number;
  end.point = &point;
  end.symbols = nullptr;
  ends_.push_back({cell, narrowed_.find(cell)});
  narrowed_.set(cell, at);
}

void Box::leave_ends(std::size_t count) {
  while (ends_.size() > count) {
    const End end = ends_.back();
    ends_.pop_back();
    changes(end.cell);
    unused_.push_back(narrowed_.find(end.cell));
    if (end.before == as_given)
      narrowed_.erase(end.cell);
    else
      narrowed_.set(end.cell, end.before);
  }
}

Hangs Box::changed_since(std::uint64_t moment) const {
  Hangs changed = on_nothing;
  if (moment_ - moment <= latest_.size()) {
    for (std::uint64_t at = moment + 1; at <= moment_; ++at)
      changed |= Hangs{1} << (cell_bits_from + latest_[at % latest_.size()]);
    return changed;
  }
  for (std::uint32_t bit = 0; bit < cell_bits; ++bit)
    changed |= Hangs{changed_at_[bit] > moment ? 1U : 0U} << (cell_bits_from + bit);
  return changed;
}

}  // namespace mm

#include "evaluate/box.hpp"

namespace mm {

namespace {
constexpr std::uint32_t as_given = 0xffffffffU;    // full range
constexpr std::uint32_t as_doubles = 0xfffffffeU;  // numbers_ and the full range, intersected
constexpr std::uint32_t as_point = 0xfffffffdU;    // points_: an end of its range
}  // namespace

Box::Box(const BuildIndex& index) : index_(&index) {
  const std::size_t count = index.build.cells.size();
  numbers_.resize(count);
  points_.resize(count, nullptr);
  symbols_.resize(count, nullptr);
  narrowed_.resize(count, as_given);
  for (std::size_t i = 0; i < count; ++i) release(CellId{i});
}

ExactInterval Box::exact(CellId cell) const {
  const std::uint32_t at = narrowed_[cell.index];
  if (at == as_given) return index_->exact(cell);
  if (at == as_point) return ExactInterval::point(*points_[cell.index]);
  if (at == as_doubles) return intersect(ExactInterval::from(numbers_[cell.index]), index_->exact(cell));
  return exact_[at];
}

void Box::narrow(CellId cell, const Interval& range) {
  changes(cell);
  give_back(cell);
  numbers_[cell.index] = range;
  points_[cell.index] = nullptr;
  narrowed_[cell.index] = as_doubles;
}

void Box::narrow_exact(CellId cell, const ExactInterval& range) {
  changes(cell);
  std::uint32_t& at = narrowed_[cell.index];
  if (at >= as_point) {
    if (free_.empty()) {
      at = static_cast<std::uint32_t>(exact_.size());
      exact_.emplace_back();
    } else {
      at = free_.back();
      free_.pop_back();
    }
  }
  exact_[at] = range;
  numbers_[cell.index] = to_interval(range);
  points_[cell.index] = range.is_point() ? &exact_[at].lo_value : nullptr;
}

void Box::narrow_symbols(CellId cell, const SymbolicSet* set) {
  changes(cell);
  symbols_[cell.index] = set;
}

void Box::release(CellId cell) {
  changes(cell);
  give_back(cell);
  narrowed_[cell.index] = as_given;
  numbers_[cell.index] = index_->number(cell);
  points_[cell.index] = index_->point(cell);
  const SymbolicSetId symbols = index_->build.cells[cell].symbols;
  symbols_[cell.index] = symbols ? &index_->model.sets[symbols] : nullptr;
}

bool Box::is_free(CellId cell) const {
  const SymbolicSetId symbols = index_->build.cells[cell].symbols;
  return narrowed_[cell.index] == as_given &&
         symbols_[cell.index] == (symbols ? &index_->model.sets[symbols] : nullptr);
}

void Box::give_back(CellId cell) {
  if (narrowed_[cell.index] < as_point) free_.push_back(narrowed_[cell.index]);
}

const ExactInterval& Box::range_of(CellId cell) {
  if (narrowed_[cell.index] == as_given) return index_->exact(cell);
  if (narrowed_[cell.index] == as_doubles) narrow_exact(cell, exact(cell));
  return exact_[narrowed_[cell.index]];
}

bool Box::to_end(CellId cell, bool high) {
  if (points_[cell.index] != nullptr) return true;
  const ExactInterval& range = range_of(cell);
  if (range.empty || (high ? range.hi_infinite : range.lo_infinite)) return false;
  const Interval& number = numbers_[cell.index];
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
  ends_.push_back({cell, narrowed_[cell.index], points_[cell.index], numbers_[cell.index]});
  narrowed_[cell.index] = as_point;
  points_[cell.index] = &point;
  numbers_[cell.index] = number;
}

void Box::leave_ends(std::size_t count) {
  while (ends_.size() > count) {
    const End& end = ends_.back();
    changes(end.cell);
    narrowed_[end.cell.index] = end.narrowed;
    points_[end.cell.index] = end.point;
    numbers_[end.cell.index] = end.number;
    ends_.pop_back();
  }
}

Hangs Box::changed_since(std::uint64_t moment) const {
  Hangs changed = on_nothing;
  if (moment == moment_) return changed;
  for (std::uint32_t bit = 0; bit < cell_bits; ++bit)
    changed |= Hangs{changed_at_[bit] > moment ? 1U : 0U} << (cell_bits_from + bit);
  return changed;
}

}  // namespace mm

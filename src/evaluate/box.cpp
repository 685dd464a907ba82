#include "evaluate/box.hpp"

namespace mm {

namespace {
constexpr std::uint32_t as_given = 0xffffffffU;    // full range
constexpr std::uint32_t as_doubles = 0xfffffffeU;  // numbers_ and the full range, intersected
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
  if (at == as_doubles) return intersect(ExactInterval::from(numbers_[cell.index]), index_->exact(cell));
  return exact_[at];
}

void Box::narrow(CellId cell, const Interval& range) {
  give_back(cell);
  numbers_[cell.index] = range;
  points_[cell.index] = nullptr;
  narrowed_[cell.index] = as_doubles;
}

void Box::narrow_exact(CellId cell, const ExactInterval& range) {
  std::uint32_t& at = narrowed_[cell.index];
  if (at >= as_doubles) {
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

void Box::release(CellId cell) {
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
  if (narrowed_[cell.index] < as_doubles) free_.push_back(narrowed_[cell.index]);
}

}  // namespace mm

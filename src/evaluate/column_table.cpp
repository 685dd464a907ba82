#include "evaluate/column_table.hpp"

#include <algorithm>

namespace mm {

namespace {
constexpr std::size_t most_distinct = 256;  // designations told apart by comparing each with each
/// Whose entities and cells stay in the cache while one column after another is read from them.
constexpr std::size_t rows_at_a_time = 64;

}  // namespace

EntityId ColumnTable::entity(const ColumnSource& source, std::size_t row) const {
  const Binding& binding = *rows_[row];
  const EntityId bound = source.slot < binding.locals.size() ? binding.locals[source.slot] : EntityId{};
  if (!bound) return bound;
  switch (source.way) {
    case ColumnSource::Way::part:
      return bench_->index.part_of(bound);
    case ColumnSource::Way::face:
      return bench_->index.face_of(bound, source.face);
    case ColumnSource::Way::own:
    case ColumnSource::Way::items:
      break;
  }
  return bound;
}

/// One symbol for all designations that are equal.
bool ColumnTable::share(std::uint32_t designation, std::uint32_t& symbol) {
  symbol = designation;
  for (const std::uint32_t other : distinct_) {
    const Bits bits = bench_->designations->equal(designation, other);
    if (bits == surely_yes) symbol = other;
    if (bits != surely_no) return bits == surely_yes;
  }
  if (distinct_.size() == most_distinct) return false;
  distinct_.push_back(designation);
  return true;
}

bool ColumnTable::read_symbol(const ColumnSource& source, CellId cell, std::uint32_t& symbol) {
  const SymbolicSetId id = bench_->index.build.cells[cell].symbols();
  if (!id) return false;
  const SymbolicSet& set = bench_->index.model.sets[id];
  if (!set.all && set.members.size() == 1) {
    if (source.kind == TypeKind::designation) return share(set.members[0], symbol);
    symbol = set.members[0];
    return true;
  }
  const AttributeDef* def = bench_->index.attribute(cell);
  symbol = any_symbol;
  return source.kind != TypeKind::designation && (set.all || (def != nullptr && def->type.choices == id));
}

bool ColumnTable::read_number(const ColumnSource& source, CellId cell, Interval& number) const {
  if (source.field == no_reg) {
    number = bench_->index.number(cell);
    return !number.is_empty();
  }
  const SymbolicSetId id = bench_->index.build.cells[cell].symbols();
  if (!id) return false;
  const SymbolicSet& set = bench_->index.model.sets[id];
  if (set.all || set.members.size() != 1) return false;
  const DesignationField& field = bench_->designations->field(set.members[0], source.field);
  number = field.number;
  return field.state == defined && !number.is_empty();
}

bool ColumnTable::read(const ColumnSource& source, EntityId entity, Column& column) {
  bool good = static_cast<bool>(entity);
  Interval number = Interval::point(0);
  std::uint32_t symbol = any_symbol;
  if (good) {
    const CellId cell = bench_->world.cell(entity, source.attribute);
    good = bench_->index.note(cell).fixed;
    if (source.is_number()) {
      good = read_number(source, cell, number) && good;
      if (!good) number = Interval::point(0);
    } else {
      good = read_symbol(source, cell, symbol) && good;
    }
  }
  if (source.is_number()) {
    column.numbers.add(number);
  } else {
    column.symbols.push_back(symbol);
  }
  return good;
}

void ColumnTable::read_row(const ColumnSource& source, std::size_t row, Column& column) {
  if (source.way != ColumnSource::Way::items) {
    column.hard.push_back(read(source, entity(source, row), column) ? 0 : 1);
    return;
  }
  column.first.push_back(static_cast<std::uint32_t>(column.numbers.size()));
  const auto& lists = rows_[row]->lists;
  const bool listed = source.slot < lists.size();
  bool good = listed && !lists[source.slot].empty();  // the least or greatest of nothing is not known
  if (listed) {
    for (const EntityId item : lists[source.slot]) good = read(source, item, column) && good;
  }
  column.hard.push_back(good ? 0 : 1);
}

void ColumnTable::finish(const ColumnSource& source, Column& column) {
  if (source.way == ColumnSource::Way::items)
    column.first.push_back(static_cast<std::uint32_t>(column.numbers.size()));
  column.any_hard = std::find(column.hard.begin(), column.hard.end(), char{1}) != column.hard.end();
  column.numbers.finish();
}

void ColumnTable::gather(std::span<const ColumnSource> sources) {
  const std::size_t first = sources_.size();
  for (const ColumnSource& source : sources)
    if (std::find(sources_.begin(), sources_.end(), source) == sources_.end()) sources_.push_back(source);
  columns_.resize(sources_.size());
  for (std::size_t begin = 0; begin < rows_.size(); begin += rows_at_a_time) {
    const std::size_t end = std::min(begin + rows_at_a_time, rows_.size());
    for (std::size_t i = first; i < sources_.size(); ++i)
      for (std::size_t row = begin; row < end; ++row) read_row(sources_[i], row, columns_[i]);
  }
  for (std::size_t i = first; i < sources_.size(); ++i) finish(sources_[i], columns_[i]);
}

std::size_t ColumnTable::column(const ColumnSource& source) {
  gather({&source, 1});
  return static_cast<std::size_t>(std::find(sources_.begin(), sources_.end(), source) - sources_.begin());
}

void ColumnTable::cells(const ColumnSource& source, std::size_t row, std::vector<CellId>& out) const {
  if (source.way != ColumnSource::Way::items) {
    out.push_back(bench_->world.cell(entity(source, row), source.attribute));
    return;
  }
  for (const EntityId item : rows_[row]->lists[source.slot])
    out.push_back(bench_->world.cell(item, source.attribute));
}

void ColumnTable::fetch(std::span<const ColumnSource> sources, std::span<const std::uint32_t> rows) {
  fetched_.clear();
  for (const std::uint32_t row : rows)
    for (const ColumnSource& source : sources) cells(source, row, fetched_);
  for (const CellId cell : fetched_) {
    if (bench_->index.is_number(cell)) __builtin_prefetch(&bench_->index.exact(cell));
  }
}

}  // namespace mm

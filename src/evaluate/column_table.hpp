// The values that many joints (or matches) of one interface (or rule) read, one column an attribute. Gathered
// once; every requirement of the interface then runs over them.
#pragma once
#include <algorithm>
#include <span>
#include <vector>

#include "evaluate/claim.hpp"
#include "evaluate/column_numbers.hpp"
#include "evaluate/column_plan.hpp"

namespace mm {

/// Numbers or symbols by row; those of a many side row by row, each row from `first[row]` on. Symbols as what
/// equal ones share, or any_symbol.
struct Column {
  ColumnNumbers numbers;
  std::vector<std::uint32_t> symbols;
  std::vector<std::uint32_t> first;
  /// Rows that only the machine can judge: another part may stand there (a candidate, a rework), the builder
  /// sets the value, or it is not told by bounds or by one symbol.
  std::vector<char> hard;
  bool any_hard = false;
};

/// Rows of a table in ascending order: all of a stretch, or those on a list, which must outlive it.
struct RowSpan {
  std::size_t first = 0, count = 0;
  const std::uint32_t* listed = nullptr;

  static RowSpan of(const std::vector<std::uint32_t>& rows) { return {0, rows.size(), rows.data()}; }
  std::size_t operator[](std::size_t i) const { return listed == nullptr ? first + i : listed[i]; }
  /// Some of them, from the one at an index on; fewer at the end.
  RowSpan part(std::size_t at, std::size_t most) const {
    return {first + at, std::min(most, count - at), listed == nullptr ? nullptr : listed + at};
  }
};

/// A missing word: one of all that its attribute may be.
inline constexpr std::uint32_t any_symbol = 0xffffffffU;

class ColumnTable {
 public:
  /// Rows are the bindings, all of one interface or rule; they must outlive the table.
  ColumnTable(Bench& bench, std::vector<const Binding*> rows) : bench_(&bench), rows_(std::move(rows)) {}

  std::size_t size() const { return rows_.size(); }
  RowSpan every() const { return {0, rows_.size(), nullptr}; }
  const Binding& binding(std::size_t row) const { return *rows_[row]; }
  /// Gathers the columns that were not before, all of them in one walk over the build.
  void gather(std::span<const ColumnSource> sources);
  /// The column of a source, gathered now if it was not before.
  std::size_t column(const ColumnSource& source);
  const Column& operator[](std::size_t column) const { return columns_[column]; }
  /// The cells that a source stands for in a row, in order.
  void cells(const ColumnSource& source, std::size_t row, std::vector<CellId>& out) const;
  /// Has what the sources stand for in some rows brought near, of all rows together: one after another, each
  /// would wait for far memory several times.
  void fetch(std::span<const ColumnSource> sources, std::span<const std::uint32_t> rows);

 private:
  EntityId entity(const ColumnSource& source, std::size_t row) const;
  void read_row(const ColumnSource& source, std::size_t row, Column& column);
  static void finish(const ColumnSource& source, Column& column);
  /// False where it cannot be told by bounds (by one symbol).
  bool read(const ColumnSource& source, EntityId entity, Column& column);
  bool read_number(const ColumnSource& source, CellId cell, Interval& number) const;
  bool read_symbol(const ColumnSource& source, CellId cell, std::uint32_t& symbol);
  bool share(std::uint32_t designation, std::uint32_t& symbol);

  Bench* bench_;
  std::vector<const Binding*> rows_;
  std::vector<ColumnSource> sources_;
  std::vector<Column> columns_;
  std::vector<CellId> fetched_;
  std::vector<std::uint32_t> distinct_;  // designations, no two of them equal
};

}  // namespace mm

#include "peers.hpp"

#if __has_include(<sqlite3.h>) && !defined(BENCH_WITHOUT_SQLITE)
#include <sqlite3.h>

#include <cstdio>
#include <cstdlib>

namespace bench {

namespace {

void must(int result, sqlite3* db) {
  if (result == SQLITE_OK || result == SQLITE_DONE || result == SQLITE_ROW) return;
  std::printf("SQLite: %s\n", sqlite3_errmsg(db));
  std::exit(4);
}

sqlite3* fill_sqlite(const Rows& rows) {
  sqlite3* db = nullptr;
  must(sqlite3_open(":memory:", &db), db);
  must(sqlite3_exec(
           db,
           "create table joint(id integer primary key, hp, hb, cp0, cp1, cb0, cb1, p0, p1, b0, b1, sp, sb, "
           "g0, "
           "g1, f0, f1, e0, e1, lim, r0, r1, gp0, gp1, gb0, gb1, fp, fb);"
           "create table layer(joint integer, n integer, t0, t1, primary key(joint, n)) without rowid; begin",
           nullptr, nullptr, nullptr),
       db);
  std::string marks = "?";
  for (std::size_t c = 0; c < layers; ++c) marks += ",?";
  sqlite3_stmt *joint = nullptr, *layer = nullptr;
  must(sqlite3_prepare_v2(db, ("insert into joint values(" + marks + ")").c_str(), -1, &joint, nullptr), db);
  must(sqlite3_prepare_v2(db, "insert into layer values(?,?,?,?)", -1, &layer, nullptr), db);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const int id = static_cast<int>(i);
    sqlite3_bind_int(joint, 1, id);
    for (std::size_t c = 0; c < layers; ++c) {
      const int column = static_cast<int>(c) + 2;
      if (rows[i][c] < 0)
        sqlite3_bind_null(joint, column);
      else
        sqlite3_bind_int(joint, column, rows[i][c]);
    }
    must(sqlite3_step(joint), db);
    sqlite3_reset(joint);
    for (std::size_t n = 0; n < 10; ++n) {
      sqlite3_bind_int(layer, 1, id);
      sqlite3_bind_int(layer, 2, static_cast<int>(n));
      sqlite3_bind_int(layer, 3, rows[i][layers + 2 * n]);
      sqlite3_bind_int(layer, 4, rows[i][layers + 2 * n + 1]);
      must(sqlite3_step(layer), db);
      sqlite3_reset(layer);
    }
  }
  sqlite3_finalize(joint);
  sqlite3_finalize(layer);
  must(sqlite3_exec(db, "commit", nullptr, nullptr, nullptr), db);
  return db;
}

Counts judge_sqlite(sqlite3* db) {
  // each: least and greatest of what must not be above zero; null where a value is missing
  struct Range {
    const char *least, *most, *from;
  };
  constexpr Range ranges[] = {
      {"hp <> hb", "hp <> hb", "joint"},
      {"max(cp0 - cb1, cb0 - cp1, 0) - 20.5", "max(cp1 - cb0, cb1 - cp0) - 20.5", "joint"},
      {"p0 - b1 + 5.5", "p1 - b0 + 5.5", "joint"},
      {"sp <> sb", "sp <> sb", "joint"},
      {"g0 * sqrt(f0 * e0) - lim", "g1 * sqrt(f1 * e1) - lim", "joint"},
      {"s.t0 - r1 + 200.5", "s.t1 - r0 + 200.5",
       "joint join (select joint, sum(t0) as t0, sum(t1) as t1 from layer group by joint) s on s.joint = "
       "joint.id"},
      {"gb0 - gp1", "gb1 - gp0", "joint"},
      {"fp <> fb", "fp <> fb", "joint"}};
  Counts counts;
  for (const Range& range : ranges) {
    const std::string text = std::string("select sum(hi <= 0), sum(lo > 0), count(*) from (select ") +
                             range.least + " as lo, " + range.most + " as hi from " + range.from + ")";
    sqlite3_stmt* statement = nullptr;
    must(sqlite3_prepare_v2(db, text.c_str(), -1, &statement, nullptr), db);
    must(sqlite3_step(statement), db);
    const long fits = sqlite3_column_int(statement, 0), conflict = sqlite3_column_int(statement, 1);
    counts.fits += fits;
    counts.conflict += conflict;
    counts.unknown += sqlite3_column_int(statement, 2) - fits - conflict;
    sqlite3_finalize(statement);
  }
  return counts;
}

}  // namespace

Told by_sqlite(const std::string& file) {
  Told told;
  const auto begin = Clock::now();
  sqlite3* db = fill_sqlite(rows_of(file));
  told.loading = since(begin);
  time_judging(
      told, [&] { return judge_sqlite(db); }, 5);
  return told;
}

}  // namespace bench
#else
bench::Told bench::by_sqlite(const std::string&) { return {true, 0, 0, 0, {}}; }
#endif

// The same judging by other means, on the whole numbers of joints.csv (see make_build.py):
//   check_peers structs FILE    structs written by hand for these eight requirements, bounds as doubles
//   check_peers sqlite FILE     SQLite in memory: two tables, one query a requirement
//   check_peers z3 FILE         Z3: two questions a requirement: can it hold, can it fail?
//   check_peers matchmark BUILD this project: the loaded build is judged
// Prints "milliseconds of judging, milliseconds of loading, fits, conflicts, unknown".
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "app/pipeline.hpp"
#include "evaluate/evaluate.hpp"
#include "interval/interval.hpp"

#if __has_include(<sqlite3.h>) && !defined(BENCH_WITHOUT_SQLITE)
#include <sqlite3.h>
#define BENCH_SQLITE 1
#endif
#if __has_include(<z3++.h>) && !defined(BENCH_WITHOUT_Z3)
#include <z3++.h>
#define BENCH_Z3 1
#endif

namespace {

using Clock = std::chrono::steady_clock;
double since(Clock::time_point begin) {
  return std::chrono::duration<double, std::milli>(Clock::now() - begin).count();
}

struct Counts {
  long fits = 0, conflict = 0, unknown = 0;
  void add(bool can_hold, bool can_fail) {
    if (!can_fail)
      ++fits;
    else if (!can_hold)
      ++conflict;
    else
      ++unknown;
  }
};

// The columns of joints.csv, in order.
enum Column : std::size_t {
  holes_pin,
  holes_base,
  circle_pin,
  circle_base = circle_pin + 2,
  pilot = circle_base + 2,
  bore = pilot + 2,
  stud_pin = bore + 2,
  stud_base,
  gain,
  pull_pin = gain + 2,
  pull_base = pull_pin + 2,
  limit = pull_base + 2,
  reach,
  grip_pin = reach + 2,
  grip_base = grip_pin + 2,
  finish_pin = grip_base + 2,
  finish_base,
  layers,
  column_count = layers + 20
};

std::vector<std::vector<int>> rows_of(const std::string& file) {
  std::vector<std::vector<int>> rows;
  std::ifstream in(file);
  for (std::string line; std::getline(in, line);) {
    std::vector<int> row;
    std::istringstream cells(line);
    for (std::string cell; std::getline(cells, cell, ',');) row.push_back(std::stoi(cell));
    if (row.size() != column_count) std::exit(4);
    rows.push_back(std::move(row));
  }
  return rows;
}

// ------------------------------------------------------------------------------------------------ by hand

using mm::Interval;

struct Joint {
  int holes_pin, holes_base, stud_pin, stud_base, finish_pin, finish_base;
  Interval circle_pin, circle_base, pilot, bore, gain, pull_pin, pull_base, reach, grip_pin, grip_base;
  Interval layers[10];
  double limit;
  bool has_grip;
};

std::vector<Joint> joints_of(const std::vector<std::vector<int>>& rows) {
  std::vector<Joint> joints;
  for (const auto& r : rows) {
    const auto range = [&](std::size_t at) { return Interval::of(r[at], r[at + 1]); };
    Joint j{r[holes_pin],
            r[holes_base],
            r[stud_pin],
            r[stud_base],
            r[finish_pin],
            r[finish_base],
            range(circle_pin),
            range(circle_base),
            range(pilot),
            range(bore),
            range(gain),
            range(pull_pin),
            range(pull_base),
            range(reach),
            range(grip_pin),
            range(grip_base),
            {},
            static_cast<double>(r[limit]),
            r[grip_pin] >= 0};
    for (std::size_t n = 0; n < 10; ++n) j.layers[n] = range(layers + 2 * n);
    joints.push_back(j);
  }
  return joints;
}

Counts judge_structs(const std::vector<Joint>& joints) {
  Counts counts;
  const mm::RoundUp upward;
  const auto at_most = [&](const Interval& value, double most) {
    counts.add(value.lo() <= most, value.hi > most);
  };
  const auto equal = [&](bool known, int a, int b) { counts.add(!known || a == b, !known || a != b); };
  for (const Joint& j : joints) {
    equal(true, j.holes_pin, j.holes_base);
    at_most(mm::abs(mm::sub(j.circle_pin, j.circle_base)), 20.5);
    at_most(mm::sub(j.pilot, j.bore), -5.5);
    equal(true, j.stud_pin, j.stud_base);
    at_most(mm::mul(j.gain, mm::sqrt(mm::mul(j.pull_pin, j.pull_base))), j.limit);
    Interval stack = Interval::point(0);
    for (const Interval& layer : j.layers) stack = mm::add(stack, layer);
    at_most(mm::sub(stack, j.reach), -200.5);
    if (j.has_grip)
      at_most(mm::sub(j.grip_base, j.grip_pin), 0);
    else
      counts.add(true, true);
    equal(j.finish_base >= 0, j.finish_pin, j.finish_base);
  }
  return counts;
}

// ------------------------------------------------------------------------------------------------ SQLite

#ifdef BENCH_SQLITE
void must(int result, sqlite3* db) {
  if (result == SQLITE_OK || result == SQLITE_DONE || result == SQLITE_ROW) return;
  std::printf("SQLite: %s\n", sqlite3_errmsg(db));
  std::exit(4);
}

sqlite3* fill_sqlite(const std::vector<std::vector<int>>& rows) {
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
#endif

// ------------------------------------------------------------------------------------------------ Z3

#ifdef BENCH_Z3
class Z3Judge {
 public:
  Counts judge(const std::vector<std::vector<int>>& rows) {
    for (const auto& r : rows) joint(r);
    return counts_;
  }

 private:
  z3::expr range(const char* name, const std::vector<int>& r, std::size_t at) {
    const z3::expr x = context_.real_const(name);
    if (r[at] >= 0) solver_.add(x >= r[at] && x <= r[at + 1]);
    return x;
  }
  z3::expr fixed(const char* name, int value) {
    const z3::expr x = context_.int_const(name);
    if (value >= 0) solver_.add(x == value);
    return x;
  }
  bool can(const z3::expr& test) {
    solver_.push();
    solver_.add(test);
    const z3::check_result result = solver_.check();
    solver_.pop();
    if (result == z3::unknown) std::exit(4);
    return result == z3::sat;
  }
  void need(const z3::expr& test) { counts_.add(can(test), can(!test)); }
  z3::expr tenths(int n) { return context_.real_val(n, 10); }

  void joint(const std::vector<int>& r) {
    solver_.push();
    need(fixed("hp", r[holes_pin]) == fixed("hb", r[holes_base]));
    const z3::expr apart = range("cp", r, circle_pin) - range("cb", r, circle_base);
    need(apart <= tenths(205) && -apart <= tenths(205));
    need(range("bore", r, bore) - range("pilot", r, pilot) >= tenths(55));
    need(fixed("sp", r[stud_pin]) == fixed("sb", r[stud_base]));
    const z3::expr g = range("gain", r, gain), f = range("pp", r, pull_pin), e = range("pb", r, pull_base);
    const z3::expr root = context_.real_const("root");
    solver_.push();
    solver_.add(root >= 0 && root * root == f * e);
    need(g * root <= r[limit]);
    solver_.pop();
    z3::expr stack = context_.real_val(0);
    for (std::size_t n = 0; n < 10; ++n)
      stack = stack + range(("t" + std::to_string(n)).c_str(), r, layers + 2 * n);
    need(range("reach", r, reach) - stack >= tenths(2005));
    need(range("gp", r, grip_pin) >= range("gb", r, grip_base));
    need(fixed("fp", r[finish_pin]) == fixed("fb", r[finish_base]));
    solver_.pop();
  }

  z3::context context_;
  z3::solver solver_{context_};
  Counts counts_;
};
#endif

// ------------------------------------------------------------------------------------------------ matchmark

Counts counts_of(const mm::Results& results) {
  Counts counts;
  for (const mm::Finding& finding : results.findings) {
    const mm::Verdict verdict = finding.cases[0].outcome.verdict;
    counts.add(verdict != mm::Verdict::conflict, verdict != mm::Verdict::fits);
  }
  return counts;
}

int tell(double judging, double loading, const Counts& counts) {
  std::printf("%.4f %.4f %ld %ld %ld\n", judging, loading, counts.fits, counts.conflict, counts.unknown);
  std::fflush(stdout);
  std::_Exit(0);
}

int run_matchmark(const std::string& file, bool details) {
  const auto begin = Clock::now();
  mm::Loaded loaded;
  mm::Options options;
  options.file = file;
  if (!mm::load_project(file, options, loaded)) return 4;
  mm::Status status = mm::Status::fits;
  const auto builds = mm::chosen_builds(loaded, options, status);
  if (builds.size() != 1) return 4;
  const double loading = since(begin);
  const auto judging = Clock::now();
  mm::EvaluateOptions evaluation;
  evaluation.details = details;
  const mm::Results results = mm::evaluate(loaded.project, *builds[0], loaded.names, evaluation);
  return tell(since(judging), loading, counts_of(results));
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 3) return 4;
  const std::string way = argv[1], file = argv[2];
  if (way == "matchmark" || way == "matchmark_plain") return run_matchmark(file, way == "matchmark");
  const auto begin = Clock::now();
  const auto rows = rows_of(file);
  if (way == "structs") {
    const auto joints = joints_of(rows);
    const double loading = since(begin);
    Counts counts = judge_structs(joints);  // once to warm, as the others have their tables warm
    const auto judging = Clock::now();
    counts = judge_structs(joints);
    return tell(since(judging), loading, counts);
  }
#ifdef BENCH_SQLITE
  if (way == "sqlite") {
    sqlite3* db = fill_sqlite(rows);
    const double loading = since(begin);
    const auto judging = Clock::now();
    const Counts counts = judge_sqlite(db);
    return tell(since(judging), loading, counts);
  }
#endif
#ifdef BENCH_Z3
  if (way == "z3") {
    const double loading = since(begin);
    const auto judging = Clock::now();
    const Counts counts = Z3Judge().judge(rows);
    return tell(since(judging), loading, counts);
  }
#endif
  std::printf("absent\n");
  return 0;
}

// What the ways of judging the joints of joints.csv share (see make_build.py).
#pragma once
#include <chrono>
#include <string>
#include <vector>

namespace bench {

using Clock = std::chrono::steady_clock;
inline double since(Clock::time_point begin) {
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

using Rows = std::vector<std::vector<int>>;
Rows rows_of(const std::string& file);

/// What one way found, and its milliseconds: judging is the least of several runs where it can be repeated;
/// gathering is what comes between loading and judging and serves every later judging.
struct Told {
  bool absent = false;
  double judging = 0, gathering = 0, loading = 0;
  Counts counts;
};

/// The least of many runs of `judge`, after one that warms the caches; fills `told`.
template <class Judge>
void time_judging(Told& told, Judge judge, int runs = 40) {
  told.counts = judge();
  for (int run = 0; run < runs; ++run) {
    const auto begin = Clock::now();
    told.counts = judge();
    const double time = since(begin);
    if (run == 0 || time < told.judging) told.judging = time;
  }
}

Told by_structs(const std::string& file);
Told by_sqlite(const std::string& file);
Told by_z3(const std::string& file);
/// The loaded build by the whole evaluator, with or without margins and reads; once.
Told by_matchmark(const std::string& file, bool details);
/// Its plain verdicts alone, by columns.
Told by_columns(const std::string& file);

}  // namespace bench

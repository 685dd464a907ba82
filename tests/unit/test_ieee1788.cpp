// Runs the interval test vectors in tests/outside/ieee1788 (ITF1788 suite; licences beside them).
// Expected bounds are the tightest binary64 ones and are compared exactly. Decorations are ignored;
// rows about NaI, which only the decorated type has, are counted as left out. 18 reverse vectors expect
// more than the tightest bounds; for these the test proves with exact arithmetic that what ours leaves
// out holds no solution.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <functional>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include "interval/exact_interval.hpp"
#include "interval/interval.hpp"
#include "interval/reverse.hpp"

using mm::Interval;

namespace {

struct Vector {
  std::string id, op, expect;
  std::vector<Interval> intervals;
  std::vector<int> integers;
  bool is_nai = false;
};

double number(const std::string& text) { return std::strtod(text.c_str(), nullptr); }

/// "[lo;hi]" or "[empty]", with or without a decoration behind.
Interval interval(const std::string& text) {
  if (text.rfind("[empty]", 0) == 0) return Interval::empty();
  const std::size_t middle = text.find(';'), end = text.find(']');
  REQUIRE(middle != std::string::npos);
  return Interval::of(number(text.substr(1, middle - 1)), number(text.substr(middle + 1, end - middle - 1)));
}

/// A row of id,op,args,expect,signal,rounded; rows with quoted text belong to operations not run here.
bool read_row(const std::string& line, Vector& vector) {
  if (line.find('"') != std::string::npos) return false;
  std::istringstream row(line);
  std::string args;
  std::getline(row, vector.id, ',');
  std::getline(row, vector.op, ',');
  std::getline(row, args, ',');
  std::getline(row, vector.expect, ',');
  std::istringstream words(args);
  vector.is_nai = args.find("[nai]") != std::string::npos;
  if (vector.is_nai) return true;
  for (std::string word; words >> word;) {
    if (word[0] == '[') vector.intervals.push_back(interval(word));
    if (word.rfind("i:", 0) == 0) vector.integers.push_back(std::atoi(word.c_str() + 2));
  }
  return true;
}

std::vector<Vector> read_vectors(const std::string& name) {
  std::ifstream file(std::string(MATCHMARK_SOURCE_DIR) + "/tests/outside/ieee1788/" + name);
  REQUIRE(file);
  std::vector<Vector> result;
  std::string line;
  std::getline(file, line);
  while (std::getline(file, line)) {
    Vector vector;
    // Arguments of other operations may be no intervals at all; those rows are not asked for.
    if (line.find(",d-") != std::string::npos || line.find(",b-") != std::string::npos) continue;
    if (read_row(line, vector)) result.push_back(std::move(vector));
  }
  return result;
}

std::string shown(Interval a) {
  if (a.is_empty()) return "[empty]";
  char text[80];
  std::snprintf(text, sizeof text, "[%a;%a]", a.lo(), a.hi);
  return text;
}

using Runner = std::function<Interval(const Vector&)>;

Runner one(Interval (*f)(Interval)) {
  return [f](const Vector& v) { return f(v.intervals[0]); };
}
Runner one(Interval (*f)(Interval, mm::Domain*)) {
  return [f](const Vector& v) { return f(v.intervals[0], nullptr); };
}
Runner two(Interval (*f)(const Interval&, const Interval&)) {
  return [f](const Vector& v) { return f(v.intervals[0], v.intervals[1]); };
}
Runner two(Interval (*f)(Interval, Interval)) {
  return [f](const Vector& v) { return f(v.intervals[0], v.intervals[1]); };
}
Runner two(Interval (*f)(Interval, Interval, mm::Domain*)) {
  return [f](const Vector& v) { return f(v.intervals[0], v.intervals[1], nullptr); };
}
Runner two(Interval (*f)(const Interval&, const Interval&, mm::Domain*)) {
  return [f](const Vector& v) { return f(v.intervals[0], v.intervals[1], nullptr); };
}
/// c alone, with x = entire; and c, x.
Runner reverse_one(Interval (*f)(Interval, Interval)) {
  return [f](const Vector& v) { return f(v.intervals[0], Interval::entire()); };
}
Runner three(Interval (*f)(Interval, Interval, Interval)) {
  return [f](const Vector& v) {
    return f(v.intervals[0], v.intervals[1], v.intervals.size() > 2 ? v.intervals[2] : Interval::entire());
  };
}
Interval recip(Interval a) { return mm::div(Interval::point(1), a); }
Interval pos(Interval a) { return a; }
Interval pown(const Vector& v) { return mm::pown(v.intervals[0], v.integers[0]); }
Interval pown_rev(const Vector& v) {
  return mm::pown_rev(v.intervals[0], v.intervals.size() > 1 ? v.intervals[1] : Interval::entire(),
                      v.integers[0]);
}

const std::map<std::string, Runner>& interval_operations() {
  static const std::map<std::string, Runner> table = {
      {"pos", one(pos)},
      {"neg", one(mm::neg)},
      {"add", two(mm::add)},
      {"sub", two(mm::sub)},
      {"mul", two(mm::mul)},
      {"div", two(mm::div)},
      {"recip", one(recip)},
      {"sqr", one(mm::sqr)},
      {"sqrt", one(mm::sqrt)},
      {"pown", pown},
      {"pow", two(mm::pow)},
      {"exp", one(mm::exp)},
      {"log", one(mm::log)},
      {"sin", one(mm::sin)},
      {"cos", one(mm::cos)},
      {"tan", one(mm::tan)},
      {"asin", one(mm::asin)},
      {"acos", one(mm::acos)},
      {"atan", one(mm::atan)},
      {"abs", one(mm::abs)},
      {"min", two(mm::min)},
      {"max", two(mm::max)},
      {"floor", one(mm::floor)},
      {"ceil", one(mm::ceil)},
      {"roundTiesToAway", one(mm::round_half_away)},
      {"convexHull", two(mm::hull)},
      {"intersection", two(mm::intersect)},
      {"sqrRev", reverse_one(mm::sqr_rev)},
      {"sqrRevBin", two(mm::sqr_rev)},
      {"absRev", reverse_one(mm::abs_rev)},
      {"absRevBin", two(mm::abs_rev)},
      {"pownRev", pown_rev},
      {"pownRevBin", pown_rev},
      {"sinRev", reverse_one(mm::sin_rev)},
      {"sinRevBin", two(mm::sin_rev)},
      {"cosRev", reverse_one(mm::cos_rev)},
      {"cosRevBin", two(mm::cos_rev)},
      {"tanRev", reverse_one(mm::tan_rev)},
      {"tanRevBin", two(mm::tan_rev)},
      {"mulRev", three(mm::mul_rev)},
      {"mulRevTen", three(mm::mul_rev)},
      {"powRev1", three(mm::pow_rev1)},
      {"powRev2", three(mm::pow_rev2)},
      {"cancelMinus", two(mm::cancel_minus)},
      {"cancelPlus", two(mm::cancel_plus)},
  };
  return table;
}

struct Tally {
  int run = 0, left_out = 0;
};

void check_number(const Vector& vector, double result) {
  const double expect = number(vector.expect);
  const bool same = std::isnan(expect) ? std::isnan(result) : result == expect;
  INFO(vector.id, " got ", result, " expected ", vector.expect);
  CHECK(same);
}

void check_pair(const Vector& vector) {
  const auto pair = mm::mul_rev_pair(vector.intervals[0], vector.intervals[1]);
  const mm::Interval &first = std::get<0>(pair), &second = std::get<1>(pair);
  std::istringstream expect(vector.expect);
  std::string first_text, second_text;
  expect >> first_text >> second_text;
  INFO(vector.id, " got ", shown(first), " ", shown(second), " expected ", vector.expect);
  CHECK(first == interval(first_text));
  CHECK(second == interval(second_text));
}

/// The forward image, exactly enclosed, of a range of the unknown.
mm::ExactInterval image(const Vector& vector, Interval range) {
  const mm::ExactInterval x = mm::ExactInterval::from(range);
  if (vector.op.rfind("sinRev", 0) == 0) return mm::sin(x);
  if (vector.op.rfind("cosRev", 0) == 0) return mm::cos(x);
  if (vector.op.rfind("tanRev", 0) == 0) return mm::tan(x);
  if (vector.op.rfind("pownRev", 0) == 0) return mm::pown(x, vector.integers[0]);
  if (vector.op == "powRev2") return mm::pow(mm::ExactInterval::from(vector.intervals[0]), x);
  return mm::ExactInterval::entire();
}

/// No x in [from, to] has its image in c; `from` (the nearer to our bound) may itself be a solution.
bool is_barren(const Vector& vector, double from, double to) {
  if (from == to) return true;
  const auto c = mm::ExactInterval::from(vector.intervals[vector.op == "powRev2" ? 1 : 0]);
  const auto misses = [&](double near) {
    const Interval range = Interval::of(std::min(near, to), std::max(near, to));
    return mm::intersect(image(vector, range), c).empty;
  };
  if (misses(from)) return true;
  return !mm::intersect(image(vector, Interval::point(from)), c).empty && misses(std::nextafter(from, to));
}

/// True when equal; else proves that the expectation is wider than the tightest, and counts it.
void check_interval(const Vector& vector, Interval result, int& tighter) {
  const Interval expect = interval(vector.expect);
  INFO(vector.id, " ", vector.op, " got ", shown(result), " expected ", vector.expect);
  if (result == expect) {
    CHECK(result == expect);
    return;
  }
  ++tighter;
  REQUIRE(vector.op.find("Rev") != std::string::npos);
  REQUIRE_FALSE(result.is_empty());
  CHECK(mm::intersect(result, expect) == result);
  CHECK(is_barren(vector, result.lo(), expect.lo()));
  CHECK(is_barren(vector, result.hi, expect.hi));
}

}  // namespace

TEST_CASE("IEEE 1788 test vectors") {
  std::map<std::string, Tally> tallies = {{"mid", {}}, {"wid", {}}, {"mag", {}}, {"mulRevToPair", {}}};
  for (const auto& [op, runner] : interval_operations()) tallies[op];
  int tighter = 0;
  const mm::RoundUp upward;
  for (const char* file :
       {"apache2/libieeep1788_elem.csv", "apache2/libieeep1788_rev.csv", "apache2/libieeep1788_mul_rev.csv",
        "apache2/libieeep1788_cancel.csv", "apache2/libieeep1788_num.csv", "apache2/libieeep1788_set.csv",
        "permissive/abs_rev.csv", "permissive/pow_rev.csv"}) {
    for (const Vector& vector : read_vectors(file)) {
      const auto tally = tallies.find(vector.op);
      if (tally == tallies.end()) continue;
      ++(vector.is_nai ? tally->second.left_out : tally->second.run);
      if (vector.is_nai) continue;
      if (vector.op == "mid") {
        check_number(vector, mm::midpoint(vector.intervals[0]));
      } else if (vector.op == "wid") {
        check_number(vector, mm::width(vector.intervals[0]));
      } else if (vector.op == "mag") {
        check_number(vector, mm::magnitude(vector.intervals[0]));
      } else if (vector.op == "mulRevToPair") {
        check_pair(vector);
      } else {
        check_interval(vector, interval_operations().at(vector.op)(vector), tighter);
      }
    }
  }
  std::ostringstream summary;
  int run = 0, left_out = 0;
  for (const auto& [name, tally] : tallies) {
    const std::string& op = name;
    CAPTURE(op);
    CHECK(tally.run > 0);
    run += tally.run;
    left_out += tally.left_out;
    summary << ' ' << op << ' ' << tally.run;
  }
  std::ostringstream total;
  CHECK(tighter == 18);
  total << "IEEE 1788 vectors run: " << run << ", of these ours is proved tighter: " << tighter
        << ", about NaI and left out: " << left_out << ";" << summary.str();
  MESSAGE(total.str());
}

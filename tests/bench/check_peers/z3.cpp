#include "peers.hpp"

#if __has_include(<z3++.h>) && !defined(BENCH_WITHOUT_Z3)
#include <z3++.h>

#include <cstdlib>

namespace bench {

namespace {

class Z3Judge {
 public:
  Counts judge(const Rows& rows) {
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

}  // namespace

Told by_z3(const std::string& file) {
  Told told;
  const auto loading = Clock::now();
  const Rows rows = rows_of(file);
  told.loading = since(loading);
  const auto judging = Clock::now();
  told.counts = Z3Judge().judge(rows);
  told.judging = since(judging);
  return told;
}

}  // namespace bench
#else
bench::Told bench::by_z3(const std::string&) { return {true, 0, 0, 0, {}}; }
#endif

// The force of a disc brake at the tyre, ten million times over spreads: plain doubles, this project's
// intervals, Boost.Interval and MPFI (where they are installed), side by side. Before anything is timed, the
// bounds are compared row by row: ours must lie inside those of the others.
#include <benchmark/benchmark.h>

#include <cstdio>
#include <cstdlib>
#include <vector>

#include "brake_force.hpp"

#if __has_include(<boost/numeric/interval.hpp>)
#include <boost/numeric/interval.hpp>
#define BENCH_BOOST 1
#endif
#if __has_include(<mpfi.h>) && !defined(BENCH_WITHOUT_MPFI)
#include <mpfi.h>
#define BENCH_MPFI 1
#endif

namespace {

using namespace bench;

constexpr int passes = 10'000;

/// Every row on its own: the processor works on several at once.
template <class Number, class Guard, class Make>
void rows_alone(benchmark::State& state, const Number& quarter_pi, Make make) {
  [[maybe_unused]] const Guard guard;
  const auto table = table_of<Number>(make);
  std::vector<Number> out(rows);
  for (auto _ : state) {
    for (std::size_t row = 0; row < rows; ++row) out[row] = brake_force(&table[row * columns], quarter_pi);
    benchmark::DoNotOptimize(out.data());
    benchmark::ClobberMemory();
  }
  state.SetItemsProcessed(state.iterations() * static_cast<std::int64_t>(rows));
}

void forces(const double* table, double* out) {
  for (std::size_t row = 0; row < rows; ++row) {
    double v[columns];
    for (std::size_t c = 0; c < columns; ++c) v[c] = table[c * rows + row];
    out[row] = brake_force(v, quarter_pi_lo);
  }
}

/// As matchmark's columns are.
MATCHMARK_COMPILED_TWICE void forces_compiled_twice(const double* table, double* out) { forces(table, out); }

template <void (*Forces)(const double*, double*)>
void double_columns(benchmark::State& state) {
  const std::vector<double> table = by_column([](const Spread& s) { return (s.lo + s.hi) / 2; });
  std::vector<double> out(rows);
  for (auto _ : state) {
    Forces(table.data(), out.data());
    benchmark::DoNotOptimize(out.data());
    benchmark::ClobberMemory();
  }
  state.SetItemsProcessed(state.iterations() * static_cast<std::int64_t>(rows));
}

void matchmark_columns(benchmark::State& state) {
  const mm::RoundUp upward;
  const std::vector<double> neg_lo = by_column([](const Spread&s) { return -s.lo; }),
                            hi = by_column([](const Spread&s) { return s.hi; });
  if (!mm::all_plain(neg_lo.data(), hi.data(), hi.size())) std::exit(1);
  std::vector<double> out_neg_lo(rows), out_hi(rows);
  for (auto _ : state) {
    forces_by_pack(neg_lo, hi, out_neg_lo, out_hi);
    benchmark::DoNotOptimize(out_neg_lo.data());
    benchmark::DoNotOptimize(out_hi.data());
    benchmark::ClobberMemory();
  }
  state.SetItemsProcessed(state.iterations() * static_cast<std::int64_t>(rows));
}

/// Every row's friction stands on the force before it, as where one formula uses the next: each must wait.
template <class Number, class Guard, class Make>
void rows_chained(benchmark::State& state, const Number& quarter_pi, Number last, Make make) {
  [[maybe_unused]] const Guard guard;
  auto table = table_of<Number>(make);
  for (auto _ : state) {
    for (std::size_t row = 0; row < rows; ++row) {
      Number* v = &table[row * columns];
      const Number kept = v[friction];
      v[friction] = kept + tiny * last;
      last = brake_force(v, quarter_pi);
      v[friction] = kept;
    }
    benchmark::DoNotOptimize(last);
  }
  state.SetItemsProcessed(state.iterations() * static_cast<std::int64_t>(rows));
}

struct Nothing {};
double middle(const Spread& s) { return (s.lo + s.hi) / 2; }
Ours ours(const Spread& s) { return Ours{mm::Interval::of(s.lo, s.hi)}; }
Ours ours(double x) { return Ours{mm::Interval::point(x)}; }
constexpr Spread quarter_pi_bounds{quarter_pi_lo, quarter_pi_hi};

void double_rows(benchmark::State& state) { rows_alone<double, Nothing>(state, quarter_pi_lo, middle); }
void double_chain(benchmark::State& state) {
  rows_chained<double, Nothing>(state, quarter_pi_lo, 2.0, middle);
}
void matchmark_rows(benchmark::State& state) {
  rows_alone<Ours, mm::RoundUp>(state, ours(quarter_pi_bounds), [](const Spread& s) { return ours(s); });
}
void matchmark_chain(benchmark::State& state) {
  rows_chained<Ours, mm::RoundUp>(state, ours(quarter_pi_bounds), ours(2),
                                  [](const Spread& s) { return ours(s); });
}

#ifdef BENCH_BOOST
namespace bi = boost::numeric;
using Protected = bi::interval<double>;
/// As its manual advises for speed: the rounding mode is set once, outside.
using Unprotected = bi::interval_lib::unprotect<Protected>::type;

template <class Number>
Number boosted(const Spread& s) {
  return Number(s.lo, s.hi);
}
template <class Number>
void boost_rows(benchmark::State& state) {
  rows_alone<Number, typename Number::traits_type::rounding>(state, boosted<Number>(quarter_pi_bounds),
                                                             boosted<Number>);
}
template <class Number>
void boost_chain(benchmark::State& state) {
  rows_chained<Number, typename Number::traits_type::rounding>(state, boosted<Number>(quarter_pi_bounds),
                                                               Number(2.0), boosted<Number>);
}
#endif

#ifdef BENCH_MPFI
/// MPFI in place, with the precision of a double; nothing is allocated while it runs.
class MpfiRow {
 public:
  MpfiRow() {
    for (mpfi_t& x : v_) mpfi_init2(x, 53);
    for (auto* x : {&area_, &radius_, &force_, &quarter_pi_}) mpfi_init2(*x, 53);
    mpfi_interv_d(quarter_pi_, quarter_pi_lo, quarter_pi_hi);
  }
  MpfiRow(const MpfiRow&) = delete;
  MpfiRow& operator=(const MpfiRow&) = delete;
  ~MpfiRow() {
    for (mpfi_t& x : v_) mpfi_clear(x);
    for (auto* x : {&area_, &radius_, &force_, &quarter_pi_}) mpfi_clear(*x);
  }
  void load(std::size_t row) {
    for (std::size_t c = 0; c < columns; ++c)
      mpfi_interv_d(v_[c], spreads()[row * columns + c].lo, spreads()[row * columns + c].hi);
  }
  Spread force() {
    mpfi_mul(area_, v_[bore], v_[bore]);
    mpfi_mul(area_, area_, quarter_pi_);
    mpfi_mul_ui(area_, area_, 4);
    mpfi_add(radius_, v_[outer], v_[inner]);
    mpfi_div_ui(radius_, radius_, 2);
    mpfi_mul_ui(force_, v_[friction], 2);
    mpfi_mul(force_, force_, v_[pressure]);
    mpfi_mul(force_, force_, area_);
    mpfi_mul(force_, force_, radius_);
    mpfi_div(force_, force_, v_[tyre]);
    return {mpfr_get_d(&force_->left, MPFR_RNDD), mpfr_get_d(&force_->right, MPFR_RNDU)};
  }

 private:
  mpfi_t v_[columns], area_, radius_, force_, quarter_pi_;
};

void mpfi_rows(benchmark::State& state) {
  std::vector<MpfiRow> table(rows);
  for (std::size_t row = 0; row < rows; ++row) table[row].load(row);
  Spread out{};
  for (auto _ : state) {
    for (std::size_t row = 0; row < rows; ++row) out = table[row].force();
    benchmark::DoNotOptimize(out);
  }
  state.SetItemsProcessed(state.iterations() * static_cast<std::int64_t>(rows));
}
#endif

void check_inside(const char* peer, std::size_t row, Spread ours, double lo, double hi) {
  if (lo <= ours.lo && ours.hi <= hi) return;
  std::printf("row %zu: %.17g..%.17g is not inside %.17g..%.17g of %s\n", row, ours.lo, ours.hi, lo, hi,
              peer);
  std::exit(1);
}

std::vector<Spread> our_bounds() {
  const mm::RoundUp upward;
  const auto table = table_of<Ours>([](const Spread& s) { return ours(s); });
  std::vector<double> neg_lo(rows), hi(rows);
  forces_by_pack(by_column([](const Spread& s) { return -s.lo; }),
                 by_column([](const Spread& s) { return s.hi; }), neg_lo, hi);
  std::vector<Spread> out;
  for (std::size_t row = 0; row < rows; ++row) {
    const mm::Interval force = brake_force(&table[row * columns], ours(quarter_pi_bounds)).bounds;
    out.push_back({force.lo(), force.hi});
    if (force.neg_lo == neg_lo[row] && force.hi == hi[row]) continue;
    std::printf("row %zu: a pack found %.17g..%.17g, one interval %.17g..%.17g\n", row, -neg_lo[row], hi[row],
                force.lo(), force.hi);
    std::exit(1);
  }
  return out;
}

void compare_bounds() {
  const std::vector<Spread> found = our_bounds();
#ifdef BENCH_BOOST
  const auto table = table_of<Protected>(boosted<Protected>);
  for (std::size_t row = 0; row < rows; ++row) {
    const Protected force = brake_force(&table[row * columns], boosted<Protected>(quarter_pi_bounds));
    check_inside("Boost.Interval", row, found[row], force.lower(), force.upper());
  }
  std::printf("Bounds lie inside those of Boost.Interval on %zu rows.\n", rows);
#else
  std::printf("Boost.Interval is not installed: skipped.\n");
#endif
#ifdef BENCH_MPFI
  MpfiRow peer;
  for (std::size_t row = 0; row < rows; ++row) {
    peer.load(row);
    const Spread force = peer.force();
    check_inside("MPFI", row, found[row], force.lo, force.hi);
  }
  std::printf("Bounds lie inside those of MPFI at 53 bits on %zu rows.\n", rows);
#else
  std::printf("MPFI is not installed: skipped.\n");
#endif
  std::fflush(stdout);
}

BENCHMARK(double_rows)->Iterations(passes);
BENCHMARK(double_columns<forces>)->Name("double_columns")->Iterations(passes);
BENCHMARK(double_columns<forces_compiled_twice>)->Name("double_columns_compiled_twice")->Iterations(passes);
BENCHMARK(matchmark_columns)->Iterations(passes);
BENCHMARK(matchmark_rows)->Iterations(passes);
#ifdef BENCH_BOOST
BENCHMARK(boost_rows<Unprotected>)->Iterations(passes)->Name("boost_rows, mode set once");
BENCHMARK(boost_rows<Protected>)->Iterations(passes / 10)->Name("boost_rows, as it comes");
#endif
#ifdef BENCH_MPFI
BENCHMARK(mpfi_rows)->Iterations(passes / 10);
#endif
BENCHMARK(double_chain)->Iterations(passes);
BENCHMARK(matchmark_chain)->Iterations(passes);
#ifdef BENCH_BOOST
BENCHMARK(boost_chain<Unprotected>)->Iterations(passes)->Name("boost_chain, mode set once");
#endif

}  // namespace

int main(int argc, char** argv) {
  compare_bounds();
  benchmark::Initialize(&argc, argv);
  benchmark::RunSpecifiedBenchmarks();
  return 0;
}

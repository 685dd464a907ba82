// The force of a disc brake at the tyre, ten million times over spreads: plain doubles, this project's
// intervals, Boost.Interval and MPFI (where they are installed), side by side. Before anything is timed, the
// bounds are compared row by row: ours must lie inside those of the others.
#include <benchmark/benchmark.h>

#include <cstdio>
#include <cstdlib>
#include <random>
#include <vector>

#include "interval/interval.hpp"

#if __has_include(<boost/numeric/interval.hpp>)
#include <boost/numeric/interval.hpp>
#define BENCH_BOOST 1
#endif
#if __has_include(<mpfi.h>) && !defined(BENCH_WITHOUT_MPFI)
#include <mpfi.h>
#define BENCH_MPFI 1
#endif

namespace {

constexpr std::size_t rows = 1000;
constexpr int passes = 10'000;

/// force = 2 mu p n (pi / 4) d^2 ((outer + inner) / 2) / tyre; SI units, spreads of 0.1 to 10 %.
enum Column : std::size_t { friction, pressure, bore, outer, inner, tyre, columns };
constexpr double pistons = 4;

template <class Number>
Number brake_force(const Number* v, const Number& quarter_pi, const Number& n, const Number& two) {
  const Number area = n * (quarter_pi * (v[bore] * v[bore]));
  const Number radius = (v[outer] + v[inner]) / two;
  return two * v[friction] * v[pressure] * area * radius / v[tyre];
}

struct Ours {
  mm::Interval bounds;
};
Ours operator*(const Ours& a, const Ours& b) { return {mm::mul(a.bounds, b.bounds)}; }
Ours operator+(const Ours& a, const Ours& b) { return {mm::add(a.bounds, b.bounds)}; }
Ours operator/(const Ours& a, const Ours& b) { return {mm::div(a.bounds, b.bounds)}; }

struct Spread {
  double lo, hi;
};

const std::vector<Spread>& spreads() {
  static const std::vector<Spread> table = [] {
    constexpr Spread ranges[columns] = {{0.3, 0.5},   {1e6, 9e6},  {0.03, 0.06},
                                        {0.12, 0.16}, {0.07, 0.1}, {0.28, 0.34}};
    std::mt19937_64 draw(5);
    std::vector<Spread> out;
    for (std::size_t row = 0; row < rows; ++row) {
      for (const Spread& range : ranges) {
        const double value = std::uniform_real_distribution<double>(range.lo, range.hi)(draw);
        const double part = std::uniform_real_distribution<double>(0.001, 0.1)(draw);
        out.push_back({value * (1 - part), value * (1 + part)});
      }
    }
    return out;
  }();
  return table;
}

template <class Number, class Make>
std::vector<Number> table_of(Make make) {
  std::vector<Number> out;
  for (const Spread& s : spreads()) out.push_back(make(s));
  return out;
}

constexpr double quarter_pi_lo = 0x1.921fb54442d18p-1, quarter_pi_hi = 0x1.921fb54442d19p-1;

/// Every row on its own: the processor works on several at once.
template <class Number, class Guard, class Make>
void rows_alone(benchmark::State& state, const Number& quarter_pi, const Number& n, const Number& two,
                Make make) {
  [[maybe_unused]] const Guard guard;
  const auto table = table_of<Number>(make);
  std::vector<Number> out(rows);
  for (auto _ : state) {
    for (std::size_t row = 0; row < rows; ++row)
      out[row] = brake_force(&table[row * columns], quarter_pi, n, two);
    benchmark::DoNotOptimize(out.data());
    benchmark::ClobberMemory();
  }
  state.SetItemsProcessed(state.iterations() * static_cast<std::int64_t>(rows));
}

/// Every row's friction stands on the force before it, as where one formula uses the next: each must wait.
template <class Number, class Guard, class Make>
void rows_chained(benchmark::State& state, const Number& quarter_pi, const Number& n, const Number& two,
                  const Number& small, Make make) {
  [[maybe_unused]] const Guard guard;
  auto table = table_of<Number>(make);
  Number last = two;
  for (auto _ : state) {
    for (std::size_t row = 0; row < rows; ++row) {
      Number* v = &table[row * columns];
      const Number kept = v[friction];
      v[friction] = kept + small * last;
      last = brake_force(v, quarter_pi, n, two);
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
constexpr double tiny = 1e-12;

void double_rows(benchmark::State& state) {
  rows_alone<double, Nothing>(state, quarter_pi_lo, pistons, 2.0, middle);
}
void double_chain(benchmark::State& state) {
  rows_chained<double, Nothing>(state, quarter_pi_lo, pistons, 2.0, tiny, middle);
}
void matchmark_rows(benchmark::State& state) {
  rows_alone<Ours, mm::RoundUp>(state, ours(quarter_pi_bounds), ours(pistons), ours(2),
                                [](const Spread& s) { return ours(s); });
}
void matchmark_chain(benchmark::State& state) {
  rows_chained<Ours, mm::RoundUp>(state, ours(quarter_pi_bounds), ours(pistons), ours(2), ours(tiny),
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
                                                             Number(pistons), Number(2.0), boosted<Number>);
}
template <class Number>
void boost_chain(benchmark::State& state) {
  rows_chained<Number, typename Number::traits_type::rounding>(
      state, boosted<Number>(quarter_pi_bounds), Number(pistons), Number(2.0), Number(tiny), boosted<Number>);
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
  std::vector<Spread> out;
  for (std::size_t row = 0; row < rows; ++row) {
    const mm::Interval force =
        brake_force(&table[row * columns], ours(quarter_pi_bounds), ours(pistons), ours(2)).bounds;
    out.push_back({force.lo(), force.hi});
  }
  return out;
}

void compare_bounds() {
  const std::vector<Spread> found = our_bounds();
#ifdef BENCH_BOOST
  const auto table = table_of<Protected>(boosted<Protected>);
  for (std::size_t row = 0; row < rows; ++row) {
    const Protected force = brake_force(&table[row * columns], boosted<Protected>(quarter_pi_bounds),
                                        Protected(pistons), Protected(2.0));
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

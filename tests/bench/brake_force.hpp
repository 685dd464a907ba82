// The force of a disc brake over made-up spreads: the formula, its rows, and this project's two ways to work
// it out, one interval at a time and some rows at once.
#pragma once
#include <random>
#include <vector>

#include "base/twice.hpp"
#include "interval/interval_pack.hpp"

namespace bench {

constexpr std::size_t rows = 1000;

/// force = 2 mu p n (pi / 4) d^2 ((outer + inner) / 2) / tyre; SI units, spreads of 0.1 to 10 %.
enum Column : std::size_t { friction, pressure, bore, outer, inner, tyre, columns };
constexpr double pistons = 4, two = 2;
constexpr double tiny = 1e-12;

template <class Number>
Number brake_force(const Number* v, const Number& quarter_pi) {
  const Number area = pistons * (quarter_pi * (v[bore] * v[bore]));
  const Number radius = (v[outer] + v[inner]) / two;
  return two * v[friction] * v[pressure] * area * radius / v[tyre];
}

struct Ours {
  mm::Interval bounds;
};
inline Ours operator*(const Ours& a, const Ours& b) { return {mm::mul(a.bounds, b.bounds)}; }
inline Ours operator+(const Ours& a, const Ours& b) { return {mm::add(a.bounds, b.bounds)}; }
inline Ours operator/(const Ours& a, const Ours& b) { return {mm::div(a.bounds, b.bounds)}; }
inline Ours operator*(double number, const Ours& a) {
  return {mm::mul(mm::Interval::point(number), a.bounds)};
}
inline Ours operator/(const Ours& a, double number) {
  return {mm::div(a.bounds, mm::Interval::point(number))};
}

/// As columns are judged: some rows at once, and where one is in doubt all once more, one by one.
struct Pack {
  mm::IntervalPack rows;
};
inline Pack operator*(const Pack& a, const Pack& b) { return {mm::mul(a.rows, b.rows)}; }
inline Pack operator+(const Pack& a, const Pack& b) { return {mm::add(a.rows, b.rows)}; }
inline Pack operator/(const Pack& a, const Pack& b) { return {mm::div(a.rows, b.rows)}; }
inline Pack operator*(double number, const Pack& a) { return {mm::mul(a.rows, number)}; }
inline Pack operator/(const Pack& a, double number) { return {mm::div(a.rows, number)}; }

struct Spread {
  double lo, hi;
};

constexpr double quarter_pi_lo = 0x1.921fb54442d18p-1, quarter_pi_hi = 0x1.921fb54442d19p-1;

inline const std::vector<Spread>& spreads() {
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

/// One column of all rows after another, so that neighbours go through the same instruction.
template <class Value>
std::vector<double> by_column(Value value) {
  std::vector<double> out(rows * columns);
  for (std::size_t row = 0; row < rows; ++row)
    for (std::size_t c = 0; c < columns; ++c) out[c * rows + row] = value(spreads()[row * columns + c]);
  return out;
}

/// Both bounds of every row's force, as (-lo, hi). All columns are known to be plain, as a table of columns
/// finds out once, when it is gathered.
MATCHMARK_COMPILED_TWICE inline void forces_by_pack(const std::vector<double>& neg_lo,
                                                    const std::vector<double>& hi,
                                                    std::vector<double>& out_neg_lo,
                                                    std::vector<double>& out_hi) {
  constexpr std::size_t step = mm::IntervalPack::rows;
  static_assert(rows % step == 0);
  const mm::Interval quarter_pi = mm::Interval::of(quarter_pi_lo, quarter_pi_hi);
  mm::IntervalPack::Signs doubt{};
  for (std::size_t row = 0; row < rows; row += step) {
    Pack v[columns];
    for (std::size_t c = 0; c < columns; ++c)
      v[c].rows = mm::IntervalPack::plain(&neg_lo[c * rows + row], &hi[c * rows + row]);
    doubt |=
        brake_force(v, Pack{mm::IntervalPack::all(quarter_pi)}).rows.store(&out_neg_lo[row], &out_hi[row]);
  }
  if (!mm::any_doubt(doubt)) return;
  for (std::size_t row = 0; row < rows; ++row) {
    Ours v[columns];
    for (std::size_t c = 0; c < columns; ++c) v[c].bounds = {neg_lo[c * rows + row], hi[c * rows + row]};
    const mm::Interval force = brake_force(v, Ours{quarter_pi}).bounds;
    out_neg_lo[row] = force.neg_lo;
    out_hi[row] = force.hi;
  }
}

}  // namespace bench

#include "evaluate/zeros.hpp"

#include <algorithm>
#include <optional>

#include "interval/exact_interval.hpp"

namespace mm {

namespace {

/// Where the difference is nothing, of value = (p + q difference) / (1 + r difference) through three points.
std::optional<Rational> zero_of_quotient(const Seen (&seen)[3]) {
  // value = p + q d - r value d: the determinants of Cramer's rule for p
  Rational rows[3][4];
  for (std::size_t i = 0; i < 3; ++i) {
    const Rational& d = seen[i].difference;
    const Rational row[4] = {1, d, -(seen[i].value * d), seen[i].value};
    std::copy(row, row + 4, rows[i]);
  }
  const auto determinant = [&](std::size_t a, std::size_t b, std::size_t c) {
    return rows[0][a] * (rows[1][b] * rows[2][c] - rows[2][b] * rows[1][c]) -
           rows[0][b] * (rows[1][a] * rows[2][c] - rows[2][a] * rows[1][c]) +
           rows[0][c] * (rows[1][a] * rows[2][b] - rows[2][a] * rows[1][b]);
  };
  const Rational whole = determinant(0, 1, 2);
  if (whole.sign() == 0) return std::nullopt;
  return determinant(3, 1, 2) / whole;
}

/// By divided differences: d = d0 + slope (x - x0) + bend (x - x0) (x - x1).
void add_zeros_of_square(const Seen (&seen)[3], std::vector<Rational>& out) {
  const auto& [a, b, c] = seen;
  const Rational slope = (b.difference - a.difference) / (b.value - a.value);
  const Rational bend = ((c.difference - b.difference) / (c.value - b.value) - slope) / (c.value - a.value);
  if (bend.sign() == 0) return;
  // of bend t^2 + lean t + d0, with t = x - x0
  const Rational lean = slope - bend * (b.value - a.value);
  const Rational under = lean * lean - bend * a.difference * 4;
  if (under.sign() < 0) return;
  const ExactInterval root = sqrt(ExactInterval::point(under));
  if (!root.is_point()) return;
  const Rational middle = a.value - lean / (bend * 2), half = root.lo_value / (bend * 2);
  out.push_back(middle - half);
  if (half.sign() != 0) out.push_back(middle + half);
}

}  // namespace

std::vector<Rational> zeros(const Seen (&seen)[3]) {
  std::vector<Rational> out;
  if (const auto zero = zero_of_quotient(seen)) out.push_back(*zero);
  const bool apart =
      seen[0].value != seen[1].value && seen[1].value != seen[2].value && seen[0].value != seen[2].value;
  if (apart) add_zeros_of_square(seen, out);
  return out;
}

}  // namespace mm

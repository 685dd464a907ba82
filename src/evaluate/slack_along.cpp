#include "evaluate/slack_along.hpp"

#include <algorithm>
#include <limits>

namespace mm {

std::optional<Rational> SlackAlong::at(const Rational& x) const {
  bench_.box.narrow_exact(cell_, ExactInterval::point(x));
  const ExactInterval range = slacks_.exact_range(bench_, slack_);
  if (range.empty || (worst_ ? range.lo_infinite : range.hi_infinite)) return std::nullopt;
  return worst_ ? range.lo_value : range.hi_value;
}

double SlackAlong::quick(double x) const {
  bench_.box.narrow(cell_, Interval::point(x));
  const Interval bounds = slacks_.range(bench_, slack_);
  return bounds.is_empty() ? std::numeric_limits<double>::quiet_NaN() : worst_ ? bounds.lo() : bounds.hi;
}

bool SlackAlong::is_never_flat(const Rational& from, const Rational& to) const {
  bench_.box.narrow_exact(cell_, ExactInterval::of(std::min(from, to), std::max(from, to)));
  return slacks_.is_never_flat(bench_, slack_, cell_);
}

Rational shortest_between(const Rational& a, const Rational& b) {
  const Rational rounded = times_power_of_two(std::max(abs(a), abs(b)), -50);
  const Rational low = std::min(a, b) - rounded, high = std::max(a, b) + rounded;
  Rational unit = 1;
  while (unit < high - low) unit *= 10;
  while (ceil(low / unit) * unit > high) unit /= 10;
  return ceil(low / unit) * unit;
}

}  // namespace mm

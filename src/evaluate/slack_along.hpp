// A slack along one value x, the other values as the box stands.
#pragma once
#include "evaluate/slack.hpp"

namespace mm {

/// worst: the least that the slack may be, else the greatest.
class SlackAlong {
 public:
  SlackAlong(Bench& bench, const Slacks& slacks, const Slack& slack, CellId cell, bool worst)
      : bench_(bench),
        slacks_(slacks),
        slack_(slack),
        cell_(cell),
        range_(bench.box.exact(cell)),
        worst_(worst) {}

  /// Of x as the box stood.
  const ExactInterval& range() const { return range_; }
  bool worst() const { return worst_; }
  bool strict() const { return slack_.strict; }
  bool holds(const Rational& slack) const { return slack_.strict ? slack > 0 : slack >= 0; }

  /// None where it is not known, or endless.
  std::optional<Rational> at(const Rational& x) const;
  /// By doubles, which bound as safely and are much quicker; NaN where it is not known.
  double quick(double x) const;
  /// It surely rises, or falls, all along from one to the other.
  bool is_never_flat(const Rational& from, const Rational& to) const;

 private:
  Bench& bench_;
  const Slacks& slacks_;
  const Slack& slack_;
  CellId cell_;
  ExactInterval range_;
  bool worst_;
};

/// Of the slacks at the ends: what rounding may make of a zero.
inline constexpr double line_tolerance = 1e-9;

/// The decimal of the fewest digits between two values or next to them: a limit that somebody wrote is one,
/// and no double.
Rational shortest_between(const Rational& a, const Rational& b);

}  // namespace mm

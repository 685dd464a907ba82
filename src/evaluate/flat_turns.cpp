// Where a slack may be flat, as min(x, 3) beyond 3, or jump, as ceil(x), a zero is not yet where it turns
// over. So what fails and what holds is asked on both sides, exactly. Doubles find about where to ask.
#include <algorithm>
#include <cmath>

#include "evaluate/turns.hpp"

namespace mm {

namespace {

constexpr int most_walks = 20, most_cuts = 48;
constexpr double close = 1e-9;       // what doubles are trusted for, as a share
constexpr std::int64_t stride = 16;  // each walk so many times as far as the one before

class FlatTurn {
 public:
  FlatTurn(const SlackAlong& slack, bool rises) : slack_(slack), rises_(rises) {}
  Turn find();

 private:
  /// The slack at x, with x noted as failing or holding; none: not known.
  std::optional<Rational> note(const Rational& x);
  bool inside(const Rational& x) const {
    return x >= std::min(*fails_, *holds_) && x <= std::max(*fails_, *holds_);
  }
  bool walk();
  Rational about() const;
  std::optional<Rational> zero_of_line(const Rational& from, const Rational& by);
  void ask_around(const Rational& x);
  bool are_near() const;
  bool is_at_zero() const { return zero_ && (*zero_ == *fails_ || *zero_ == *holds_); }
  void cut();
  Turn told();

  const SlackAlong& slack_;
  const bool rises_;
  std::optional<Rational> fails_, holds_;  // the nearest known; the turn lies between
  std::optional<Rational> zero_;           // between them, or one of them, where the slack is nothing
};

std::optional<Rational> FlatTurn::note(const Rational& x) {
  const auto y = slack_.at(x);
  if (!y) return y;
  std::optional<Rational>& into = slack_.holds(*y) ? holds_ : fails_;
  // failing values lie below holding ones where the slack rises
  const bool nearer = !into || (*into < x) == (slack_.holds(*y) != rises_);
  if (nearer) into = x;
  return y;
}

/// Out from what is known until some value fails and some holds.
bool FlatTurn::walk() {
  const ExactInterval& range = slack_.range();
  if (!fails_ && !holds_ && !note(value_at(range, false, Spot::middle))) return false;
  Rational reach = 1;
  for (int i = 0; i < most_walks && (!fails_ || !holds_); ++i, reach *= stride) {
    const bool up = fails_.has_value() == rises_;
    if (up ? !range.hi_infinite : !range.lo_infinite) return false;
    const Rational from = fails_ ? *fails_ : *holds_;
    if (!note(up ? from + reach : from - reach)) return false;
  }
  return fails_ && holds_;
}

/// Doubles, with a tolerance, say that it is about here: the shortest number there.
Rational FlatTurn::about() const {
  double fails = fails_->to_double(), holds = holds_->to_double();
  const double span = std::abs(holds - fails);
  const double tolerance = (std::abs(slack_.quick(fails)) + std::abs(slack_.quick(holds))) * line_tolerance;
  for (int i = 0; i < most_cuts && std::abs(holds - fails) > close * (std::abs(holds) + std::abs(fails));
       ++i) {
    const double at = fails + (holds - fails) / 2;
    const double y = slack_.quick(at);
    const bool does = slack_.strict() ? y > tolerance : y >= -tolerance;
    (does ? holds : fails) = at;
  }
  // a slope of the whole makes so much of the tolerance
  const double more = (holds > fails ? 1 : -1) * (std::abs(holds - fails) + span * 2 * line_tolerance);
  const Rational found = shortest_between(exact(fails - more), exact(holds + more));
  return inside(found) ? found : exact(fails);
}

/// Of the line through two values of x, the second `by` beyond the first.
std::optional<Rational> FlatTurn::zero_of_line(const Rational& from, const Rational& by) {
  const auto a = note(from), b = note(from + by);
  if (!a || !b || *a == *b) return std::nullopt;
  const Rational zero = from - *a * by / (*b - *a);
  return inside(zero) ? std::optional(zero) : std::nullopt;
}

void FlatTurn::ask_around(const Rational& x) {
  const Rational size = std::max(abs(x), abs(*holds_ - *fails_) / 32);
  const Rational step = times_power_of_two(size, -22) * (*holds_ > *fails_ ? 1 : -1);
  const auto y = note(x);
  if (y && *y == 0) zero_ = x;
  for (const Rational& beside : {x - step, x + step})
    if (inside(beside)) note(beside);
}

bool FlatTurn::are_near() const {
  return times_power_of_two(abs(*holds_ - *fails_), 20) <= abs(*holds_) + abs(*fails_);
}

void FlatTurn::cut() {
  for (int i = 0; i < most_cuts && !are_near(); ++i)
    if (!note((*fails_ + *holds_) / 2)) return;
}

/// The safe side of the turn; the turn itself where that is known.
Turn FlatTurn::told() {
  const Rational& sure = slack_.worst() ? *holds_ : *fails_;
  const Rational& other = slack_.worst() ? *fails_ : *holds_;
  // a zero holds, unless it is asked for more: on the other side, it is the open end of what is sure
  const bool zero_is_sure = slack_.worst() != slack_.strict();
  if (zero_ && !zero_is_sure && *zero_ == other && slack_.is_never_flat(*zero_, sure))
    return {Turn::Kind::found, {*zero_, true}};
  return {Turn::Kind::found, {sure}};
}

Turn FlatTurn::find() {
  using Kind = Turn::Kind;
  const ExactInterval& range = slack_.range();
  if (!range.lo_infinite) {
    if (!note(range.lo_value)) return {};
    if (rises_ ? holds_.has_value() : fails_.has_value())
      return {rises_ ? Kind::always_holds : Kind::always_fails, {}};
  }
  if (!range.hi_infinite) {
    const auto y = note(range.hi_value);
    if (!y) return {};
    if (slack_.holds(*y) != rises_) return {rises_ ? Kind::always_fails : Kind::always_holds, {}};
  }
  if (!walk()) return {};
  ask_around(about());
  if (!is_at_zero() && !are_near()) {
    cut();
    ask_around(shortest_between(*fails_, *holds_));
  }
  // where it is no short number: on the side that is not flat, the line leads to it
  if (!is_at_zero()) {
    const Rational steep = slack_.strict() ? *holds_ : *fails_;
    const auto zero = zero_of_line(steep, steep - (slack_.strict() ? *fails_ : *holds_));
    if (zero) ask_around(*zero);
  }
  return told();
}

}  // namespace

Turn find_flat_turn(const SlackAlong& slack, bool rises) { return FlatTurn(slack, rises).find(); }

}  // namespace mm

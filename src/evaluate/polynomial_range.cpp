// What a form may be while each of its atoms is anywhere in its range.
#include <algorithm>

#include "evaluate/polynomial.hpp"

namespace mm {

namespace {

ExactInterval plain_range(const Polynomial& form, const std::vector<ExactInterval>& of_atoms) {
  ExactInterval out = ExactInterval::point(0);
  for (const Term& term : form.terms()) {
    ExactInterval one = ExactInterval::point(term.factor);
    for (const AtomPower& power : term.powers) one = mul(one, pown(of_atoms[power.atom], power.power));
    out = add(out, one);
  }
  return out;
}

/// It is a divisor and may be nothing: there the form leaps, whatever its slope.
bool leaps(const Polynomial& form, std::uint32_t atom, const ExactInterval& range) {
  if (!range.contains(0)) return false;
  return std::any_of(form.terms().begin(), form.terms().end(), [&](const Term& term) {
    return std::any_of(term.powers.begin(), term.powers.end(),
                       [&](const AtomPower& one) { return one.atom == atom && one.power < 0; });
  });
}

/// Where in its range an atom makes the form least, if that holds it only by itself and squared, as
/// x x + 3 x + y.
std::optional<Rational> turning(const Polynomial& form, std::uint32_t atom, const ExactInterval& range) {
  Rational square, line;
  for (const Term& term : form.terms()) {
    const auto at = std::find_if(term.powers.begin(), term.powers.end(),
                                 [&](const AtomPower& one) { return one.atom == atom; });
    if (at == term.powers.end()) continue;
    if (term.powers.size() > 1 || (at->power != 1 && at->power != 2)) return std::nullopt;
    (at->power == 2 ? square : line) = term.factor;
  }
  if (square.sign() == 0) return std::nullopt;
  const Rational middle = -line / (square * 2);
  if (square.sign() > 0) {
    if (!range.lo_infinite && middle < range.lo_value) return range.lo_value;
    if (!range.hi_infinite && middle > range.hi_value) return range.hi_value;
    return middle;
  }
  if (range.lo_infinite || range.hi_infinite) return std::nullopt;
  return middle - range.lo_value >= range.hi_value - middle ? range.lo_value : range.hi_value;
}

/// The least of a x x + b x where x is nothing or above; none where there is no least.
std::optional<Rational> least_above(const Rational& a, const Rational& b, const ExactInterval& x) {
  const auto at = [&](const Rational& value) { return (a * value + b) * value; };
  const bool rises_at_last = a.sign() > 0 || (a.sign() == 0 && b.sign() >= 0);
  if (x.hi_infinite && !rises_at_last) return std::nullopt;
  Rational out = at(x.lo_value);
  if (!x.hi_infinite) out = std::min(out, at(x.hi_value));
  if (a.sign() > 0)
    if (const Rational middle = -b / (a * 2); x.contains(middle)) out = std::min(out, at(middle));
  return out;
}

/// A bound from below, of a form in which the atom is squared and more stands beside it, as y x x + z x: its
/// factors are where they make the least of it.
std::optional<Rational> least_of_square(const Polynomial& form, std::uint32_t atom,
                                        const std::vector<ExactInterval>& atoms) {
  ExactInterval factors[3] = {ExactInterval::point(0), ExactInterval::point(0), ExactInterval::point(0)};
  for (const Term& term : form.terms()) {
    ExactInterval one = ExactInterval::point(term.factor);
    int power = 0;
    for (const AtomPower& of : term.powers) {
      if (of.atom == atom) {
        power = of.power;
      } else {
        one = mul(one, pown(atoms[of.atom], of.power));
      }
    }
    if (power < 0 || power > 2) return std::nullopt;
    factors[power] = add(factors[power], one);
  }
  const auto& [rest, line, square] = factors;
  const bool known = !rest.empty && !rest.lo_infinite && !square.empty && !square.lo_infinite;
  if (!known || line.empty || square.lo_value.sign() == 0) return std::nullopt;
  std::optional<Rational> out;
  for (const bool above : {true, false}) {
    ExactInterval side = ExactInterval::entire();
    side.lo_infinite = false;
    side = intersect(side, above ? atoms[atom] : neg(atoms[atom]));
    if (side.empty) continue;
    if (above ? line.lo_infinite : line.hi_infinite) return std::nullopt;
    const auto one = least_above(square.lo_value, above ? line.lo_value : -line.hi_value, side);
    if (!one) return std::nullopt;
    out = out ? std::min(*out, *one) : *one;
  }
  return out ? std::optional(*out + rest.lo_value) : std::nullopt;
}

/// What the form may be at least: as it stands, and by its squares.
ExactInterval from_least(const Polynomial& form, const std::vector<ExactInterval>& atoms) {
  ExactInterval out = plain_range(form, atoms);
  for (const Term& term : form.terms()) {
    for (const AtomPower& one : term.powers) {
      if (one.power != 2 || out.empty || atoms[one.atom].empty) continue;
      const auto bound = least_of_square(form, one.atom, atoms);
      if (!bound || (!out.lo_infinite && out.lo_value >= *bound)) continue;
      out.lo_infinite = false;
      out.lo_value = *bound;
    }
  }
  return out;
}

/// The atoms at the ends where the form is least, as far as slopes tell; what stands at an end makes other
/// slopes plainer.
ExactInterval least(Polynomial form, std::vector<ExactInterval> atoms) {
  const auto stand_at = [&](const Rational& value, std::uint32_t atom) {
    atoms[atom] = ExactInterval::point(value);
    if (auto here = form.at(atom, value)) form = *std::move(here);
  };
  for (bool moved = true; moved;) {
    moved = false;
    for (std::uint32_t atom = 0; atom < atoms.size(); ++atom) {
      const ExactInterval range = atoms[atom];
      if (range.empty || range.is_point()) continue;
      if (const auto spot = turning(form, atom, range)) {
        stand_at(*spot, atom);
        moved = true;
        continue;
      }
      if (leaps(form, atom, range)) continue;
      const Polynomial slope = form.derivative(atom);
      if (slope.terms().empty()) continue;
      const ExactInterval moves = plain_range(slope, atoms);
      if (moves.empty) continue;
      const bool rises = !moves.lo_infinite && moves.lo_value.sign() >= 0;
      if (!rises && (moves.hi_infinite || moves.hi_value.sign() > 0)) continue;
      if (rises ? range.lo_infinite : range.hi_infinite) continue;
      stand_at(rises ? range.lo_value : range.hi_value, atom);
      moved = true;
    }
  }
  return from_least(form, atoms);
}

}  // namespace

ExactInterval range_of(const Polynomial& form, const std::vector<ExactInterval>& of_atoms) {
  const ExactInterval low = least(form, of_atoms), high = least(form.scaled(-1), of_atoms);
  if (low.empty || high.empty) return ExactInterval::entire();
  ExactInterval out = low;
  out.hi_value = -high.lo_value;
  out.hi_infinite = high.lo_infinite;
  return out;
}

int sign_of(const Polynomial& form, const std::vector<ExactInterval>& of_atoms,
            const std::function<bool(std::uint32_t)>& never_zero) {
  int all = 0;
  for (const Term& term : form.terms()) {
    int one = term.factor.sign();
    for (const AtomPower& power : term.powers) {
      const ExactInterval& range = of_atoms[power.atom];
      const int end =
          power.power < 0 || (never_zero && never_zero(power.atom)) ? 0 : 1;  // a divisor is not zero
      const bool above = !range.empty && !range.lo_infinite && range.lo_value.sign() >= end;
      const bool below = !range.empty && !range.hi_infinite && range.hi_value.sign() <= -end;
      if (!above && !below) return 0;
      if (below && power.power % 2 != 0) one = -one;
    }
    if (all == -one) return 0;
    all = one;
  }
  return all;
}

}  // namespace mm

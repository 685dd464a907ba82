// Angles that arc functions give, in turns: of sines and tangents that are known exactly, and of a sine,
// cosine or tangent of an angle, which is that angle again, turned into the range of the arc function.
#include "evaluate/algebra.hpp"

namespace mm {

namespace {

/// The angles whose sines are known: quarters, eighths and twelfths of a turn.
constexpr int known_angles[] = {-6, -4, -3, -2, 0, 2, 3, 4, 6};  // 24ths

/// The half of a turn in which an angle stays, the first being 0; none where it leaves it.
std::optional<Rational> half_of(const ExactInterval& turns) {
  if (turns.empty || turns.lo_infinite || turns.hi_infinite) return std::nullopt;
  const Rational half = floor(turns.lo_value * 2);
  return turns.hi_value * 2 <= half + 1 ? std::optional(half) : std::nullopt;
}

}  // namespace

/// acos(cos(x)), where x stays in one half of a turn.
std::optional<Polynomial> Algebra::folded(const Polynomial& x) const {
  const auto half = half_of(range(x));
  if (!half) return std::nullopt;
  const bool rises = (*half / 2).is_whole();
  return rises ? sum(x, Polynomial(*half / 2), -1) : sum(Polynomial((*half + 1) / 2), x, -1);
}

/// The angle of a known sine, or tangent.
std::optional<Polynomial> Algebra::known_angle(bool of_tangent, const Polynomial& a) {
  for (const int angle : known_angles) {
    const Rational turns(angle, 24);
    auto its = sine(turns);
    if (of_tangent) {
      const auto below = sine(turns + Rational(1, 4));
      const auto inverted = below ? inverse(*below) : std::nullopt;
      its = its && inverted ? times(*its, *inverted) : std::nullopt;
    }
    if (its && *its == a) return Polynomial(turns);
  }
  return std::nullopt;
}

/// asin, acos or atan.
std::optional<Polynomial> Algebra::angle(OpCode code, const Polynomial& a) {
  const Polynomial quarter(Rational(1, 4));
  const auto from_quarter = [&](const std::optional<Polynomial>& x) {
    return x ? sum(quarter, *x, -1) : std::nullopt;
  };
  if (a.leading().sign() < 0) {  // of -x
    const auto turned = angle(code, a.scaled(-1));
    if (!turned) return std::nullopt;
    return code == OpCode::acos ? sum(Polynomial(Rational(1, 2)), *turned, -1) : turned->scaled(-1);
  }
  const std::vector<Term>& terms = a.terms();
  const bool one_atom = terms.size() == 1 && terms[0].powers.size() == 1 && terms[0].powers[0].power == 1;
  const Atom atom = one_atom ? atoms_[terms[0].powers[0].atom] : Atom{};
  if (a.is_constant() || (one_atom && atom.code == OpCode::sqrt && atom.inner->is_constant())) {
    const auto known = known_angle(code == OpCode::atan, a);
    return code == OpCode::acos ? from_quarter(known) : known;
  }
  if (!one_atom || terms[0].factor != 1) return std::nullopt;
  if (code == OpCode::atan) {
    const auto inner = atom.code == OpCode::tan ? sum(*atom.inner, quarter, 1) : std::nullopt;
    const auto half = inner ? half_of(range(*inner)) : std::nullopt;
    return half ? sum(*atom.inner, Polynomial(*half / 2), -1) : std::nullopt;
  }
  if (atom.code != OpCode::sin && atom.code != OpCode::cos) return std::nullopt;
  const auto inner = atom.code == OpCode::cos ? std::optional(*atom.inner) : from_quarter(*atom.inner);
  const auto out = inner ? folded(*inner) : std::nullopt;
  return code == OpCode::acos ? out : from_quarter(out);
}

}  // namespace mm

#include "real.hpp"

#include <algorithm>
#include <utility>

namespace mm_proof {

Truth truth_not(Truth a) {
  return static_cast<Truth>(((a & no) != 0 ? yes : 0) | ((a & yes) != 0 ? no : 0) | (a & undefined));
}

Truth truth_and(Truth a, Truth b) {
  Truth out = 0;
  for (const Truth x : {no, yes, undefined}) {
    for (const Truth y : {no, yes, undefined}) {
      if ((a & x) == 0 || (b & y) == 0) continue;
      out |= x == no || y == no ? no : x == undefined || y == undefined ? undefined : yes;
    }
  }
  return out;
}

Real Real::between(Rational lo, Rational hi) {
  Real out;
  out.point = lo == hi;
  out.lo = std::move(lo);
  if (!out.point) out.hi = std::move(hi);
  return out;
}

Real Real::anything() {
  Real out;
  out.point = out.known = false;
  out.jumps = true;
  return out;
}

Real Real::nothing() {
  Real out = anything();
  out.exists = false;
  out.undef = true;
  return out;
}

namespace {

void carry(Real& out, const Real& a) {
  out.undef = out.undef || a.undef;
  out.exists = out.exists && a.exists;
  out.jumps = out.jumps || a.jumps;
}

std::vector<Rational> form_of(const Real& a) {
  return !a.form.empty() || !a.point ? a.form : std::vector<Rational>{a.lo};
}

Real done(Real out, const Real& a) {
  carry(out, a);
  return out;
}

Real done(Real out, const Real& a, const Real& b) {
  carry(out, a);
  carry(out, b);
  return out;
}

Rational whole_floor(const Rational& x) {
  mpz_class out;
  mpz_fdiv_q(out.get_mpz_t(), x.get_num_mpz_t(), x.get_den_mpz_t());
  return out;
}
Rational whole_ceil(const Rational& x) { return -whole_floor(-x); }
Rational whole_round(const Rational& x) {
  return x < 0 ? Rational(-whole_floor(Rational(1, 2) - x)) : whole_floor(x + Rational(1, 2));
}

template <class Step>
Real stepped(const Real& a, Step step) {
  if (!a.known) return done(Real::anything(), a);
  Real out = a.point ? Real(step(a.lo)) : Real::between(step(a.lo), step(a.hi));
  out.jumps = !out.point;
  return done(out, a);
}

}  // namespace

Real add(const Real& a, const Real& b) {
  if (!a.known || !b.known) return done(Real::anything(), a, b);
  if (a.point && b.point) return done(Real(a.lo + b.lo), a, b);
  Real out = Real::between(a.lo + b.lo, a.high() + b.high());
  const std::vector<Rational> x = form_of(a), y = form_of(b);
  if (!x.empty() && !y.empty()) out.form.resize(std::max(x.size(), y.size()));
  for (std::size_t i = 0; i < out.form.size(); ++i)
    out.form[i] = (i < x.size() ? x[i] : Rational(0)) + (i < y.size() ? y[i] : Rational(0));
  return done(out, a, b);
}

Real neg(const Real& a) {
  if (!a.known) return a;
  Real out = a.point ? Real(-a.lo) : Real::between(-a.hi, -a.lo);
  for (const Rational& factor : a.form) out.form.emplace_back(-factor);
  return done(out, a);
}

Real sub(const Real& a, const Real& b) { return add(a, neg(b)); }

Real mul(const Real& a, const Real& b) {
  if (!a.known || !b.known) return done(Real::anything(), a, b);
  if (a.point && b.point) return done(Real(a.lo * b.lo), a, b);
  const Rational corners[4] = {a.lo * b.lo, a.lo * b.high(), a.high() * b.lo, a.high() * b.high()};
  Real out = Real::between(*std::min_element(corners, corners + 4), *std::max_element(corners, corners + 4));
  const std::vector<Rational> x = form_of(a), y = form_of(b);
  if (!x.empty() && !y.empty()) out.form.resize(x.size() + y.size() - 1);
  for (std::size_t i = 0; i < x.size() && !y.empty(); ++i)
    for (std::size_t j = 0; j < y.size(); ++j) out.form[i + j] += x[i] * y[j];
  return done(out, a, b);
}

Real div(const Real& a, const Real& b) {
  if (b.known && b.point && b.lo == 0) return Real::nothing();
  if (!b.known || (b.lo <= 0 && b.high() >= 0)) {
    Real out = done(Real::anything(), a, b);
    out.undef = true;
    return out;
  }
  if (!a.known) return done(Real::anything(), a, b);
  if (a.point && b.point) return done(Real(a.lo / b.lo), a, b);
  return done(mul(a, Real::between(1 / b.high(), 1 / b.lo)), a, b);
}

Real min(const Real& a, const Real& b) {
  if (!a.known || !b.known) return done(Real::anything(), a, b);
  if (a.high() <= b.lo) return done(a, b);
  if (b.high() <= a.lo) return done(b, a);
  return done(Real::between(std::min(a.lo, b.lo), std::min(a.high(), b.high())), a, b);
}

Real max(const Real& a, const Real& b) { return neg(min(neg(a), neg(b))); }

Real hull(const Real& a, const Real& b) {
  Real out;
  if (!a.exists || !b.exists) {
    out = a.exists ? a : b;
  } else if (!a.known || !b.known) {
    out = Real::anything();
  } else {
    out = Real::between(std::min(a.lo, b.lo), std::max(a.high(), b.high()));
    out.jumps = true;
  }
  out.jumps = out.jumps || a.jumps || b.jumps;
  out.exists = a.exists || b.exists;
  out.undef = a.undef || b.undef;
  return out;
}

Real abs(const Real& a) {
  if (!a.known) return a;
  if (a.lo >= 0) return a;
  if (a.high() <= 0) return neg(a);
  return done(Real::between(0, std::max(Rational(-a.lo), a.high())), a);
}

Real floor(const Real& a) { return stepped(a, whole_floor); }
Real ceil(const Real& a) { return stepped(a, whole_ceil); }
Real round(const Real& a) { return stepped(a, whole_round); }

namespace {

Truth with_undefined(Truth sure, const Real& a, const Real& b) {
  if (!a.exists || !b.exists) return undefined;
  return a.undef || b.undef ? static_cast<Truth>(sure | undefined) : sure;
}

}  // namespace

Truth less(const Real& a, const Real& b) { return truth_not(less_equal(b, a)); }

Truth less_equal(const Real& a, const Real& b) {
  Truth out = open;
  if (a.known && b.known) {
    if (a.high() <= b.lo) out = yes;
    if (a.lo > b.high()) out = no;
  }
  return with_undefined(out, a, b);
}

Truth equal(const Real& a, const Real& b) {
  Truth out = open;
  if (a.known && b.known) {
    if (a.point && b.point && a.lo == b.lo) out = yes;
    if (a.lo > b.high() || b.lo > a.high()) out = no;
  }
  return with_undefined(out, a, b);
}

}  // namespace mm_proof

// Quantifiers of the judge: over parts, over faces, over a continuous range.
#include <algorithm>
#include <utility>

#include "judge.hpp"

namespace mm_proof {

namespace {

template <class T>
const T& item(const std::vector<T>& list, int i) {
  return list[static_cast<std::size_t>(i)];
}

}  // namespace

std::vector<EntityRef> Judge::reachable(EntityRef from, const std::vector<int>& through) const {
  std::vector<char> seen(scene_->instances.size(), 0);
  std::vector<int> queue;
  seen[static_cast<std::size_t>(from.instance)] = 1;
  const auto leave = [&](EntityRef face) {
    const int joint = item(item(scene_->instances, face.instance).joints, face.face);
    if (joint < 0) return;
    const Joint& along = item(scene_->joints, joint);
    if (std::find(through.begin(), through.end(), along.interface) == through.end()) return;
    for (const auto& side : along.sides) {
      for (const EntityRef other : side) {
        if (seen[static_cast<std::size_t>(other.instance)] != 0) continue;
        seen[static_cast<std::size_t>(other.instance)] = 1;
        queue.push_back(other.instance);
      }
    }
  };
  const auto leave_all = [&](int instance) {
    for (std::size_t f = 0; f < item(scene_->instances, instance).joints.size(); ++f)
      leave({instance, static_cast<int>(f)});
  };
  if (from.face >= 0) {
    leave(from);
  } else {
    leave_all(from.instance);
  }
  for (std::size_t i = 0; i < queue.size(); ++i) leave_all(queue[i]);
  std::vector<EntityRef> out;
  for (const int instance : queue) out.push_back({instance, -1});
  return out;
}

std::vector<EntityRef> Judge::domain(const Node& node, bool& lost) {
  lost = false;
  if (node.many_var >= 0) return item(lists_, node.many_var);
  std::vector<EntityRef> all, out;
  if (node.from != nullptr) {
    const Term from = entity(*node.from);
    lost = from.state == undefined;
    if (!lost) all = reachable(from.entity, node.through);
  } else {
    for (std::size_t i = 0; i < scene_->instances.size(); ++i) all.push_back({static_cast<int>(i), -1});
  }
  for (const EntityRef e : all) {
    if (node.kind < 0 || item(scene_->instances, e.instance).kind == node.kind) out.push_back(e);
  }
  return out;
}

Truth Judge::quantified(const Node& node) {
  // a let may go over a side inside a quantifier over the same side
  const Kept<EntityRef> kept(entities_[static_cast<std::size_t>(node.var)]);
  bool lost = false;
  const bool some = node.op == Op::some;
  Truth out = some ? no : yes;
  for (const EntityRef e : domain(node, lost)) {
    entities_[static_cast<std::size_t>(node.var)] = e;
    const Truth where = node.kids[0] != nullptr ? truth(at(node, 0)) : yes;
    if (where == no) continue;
    const Truth body = node.kids[1] != nullptr ? truth(at(node, 1)) : yes;
    out = some ? truth_or(out, truth_and(where, body)) : truth_and(out, truth_or(truth_not(where), body));
  }
  return lost ? undefined : out;
}

Real Judge::aggregate(const Node& node) {
  const Kept<EntityRef> kept(entities_[static_cast<std::size_t>(node.var)]);
  bool lost = false, any = false, undef = false;
  Real out(0);
  for (const EntityRef e : domain(node, lost)) {
    entities_[static_cast<std::size_t>(node.var)] = e;
    const Truth where = node.kids[0] != nullptr ? truth(at(node, 0)) : yes;
    if (where == no) continue;
    if (where == undefined) return Real::nothing();
    const Real body = node.op == Op::count ? Real(1) : number(at(node, 1));
    if (where == yes && !body.exists) return Real::nothing();
    if (where != yes) {
      undef = true;
      out = Real::anything();
    } else if (node.op == Op::count || node.op == Op::sum) {
      out = add(out, body);
    } else {
      out = !any ? body : node.op == Op::least ? min(out, body) : max(out, body);
    }
    undef = undef || body.undef;
    any = true;
  }
  if (lost || (!any && (node.op == Op::least || node.op == Op::greatest))) return Real::nothing();
  out.undef = out.undef || undef;
  return out;
}

/// What is nothing where a comparison of numbers turns over.
void Judge::add_slacks(const Node& node, std::vector<Real>& out) {
  switch (node.op) {
    case Op::all_of:
    case Op::any_of:
    case Op::negate:
    case Op::choose:
      for (const Node* kid : node.kids)
        if (kid->sort == Sort::truth) add_slacks(*kid, out);
      return;
    case Op::within: {
      const Real apart = sub(number(at(node, 0)), number(at(node, 2))), most = number(at(node, 1));
      for (const Real& slack : {apart, sub(apart, most), add(apart, most)}) out.push_back(slack);
      return;
    }
    case Op::in_range:
      for (const std::size_t end : {std::size_t{1}, std::size_t{2}})
        out.push_back(sub(number(at(node, 0)), number(at(node, end))));
      return;
    case Op::lt:
    case Op::le:
    case Op::gt:
    case Op::ge:
    case Op::eq:
    case Op::ne:
      if (at(node, 0).sort == Sort::number) out.push_back(sub(number(at(node, 0)), number(at(node, 1))));
      return;
    default:
      return;
  }
}

/// Between the two, of comparisons that are straight lines: no random point is one of these.
std::vector<Rational> Judge::turns(const Node& node, const Rational& from, const Rational& to) {
  Real& z = numbers_[static_cast<std::size_t>(node.var)];
  std::vector<Real> slacks[2];
  for (const bool last : {false, true}) {
    z = Real(last ? to : from);
    for (const std::size_t kid : {std::size_t{0}, std::size_t{1}})
      if (node.kids[kid] != nullptr) add_slacks(at(node, kid), slacks[last ? 1 : 0]);
  }
  std::vector<Rational> out;
  for (std::size_t i = 0; i < std::min(slacks[0].size(), slacks[1].size()); ++i) {
    const Real &a = slacks[0][i], &b = slacks[1][i];
    const bool known = a.exists && b.exists && a.known && b.known && a.point && b.point;
    if (known && sgn(a.lo) * sgn(b.lo) < 0) out.emplace_back(from + (to - from) * a.lo / (a.lo - b.lo));
  }
  return out;
}

/// "every": a point that fails says no; pieces that all hold say yes. "some" is the denial of "every not".
Truth Judge::over_range(const Node& node) {
  const bool some = node.op == Op::some_z;
  const Real lo = number(at(node, 2)), hi = number(at(node, 3));
  if (!lo.exists || !hi.exists) return undefined;
  const Truth empty = less(hi, lo);
  const auto turned = [&](Truth t) { return some ? truth_not(t) : t; };
  if (empty == yes) return turned(yes);
  if ((empty & yes) != 0 || !lo.known || !hi.known) return whatever;
  Real& z = numbers_[static_cast<std::size_t>(node.var)];
  ++parameters_;
  const auto holds = [&](Real at_z) {
    z = std::move(at_z);
    const Truth where = node.kids[0] != nullptr ? truth(at(node, 0)) : yes;
    if (where == no) return yes;
    return truth_or(truth_not(where), turned(node.kids[1] != nullptr ? truth(at(node, 1)) : yes));
  };
  const Rational from = lo.high(), to = hi.lo;
  Truth possible = whatever;
  std::vector<Rational> points{from, to};
  for (int i = 0; i < range_points; ++i)
    points.emplace_back(from + (to - from) * Rational(world_->draw().below(129), 128));
  for (Rational& turn : turns(node, from, to)) points.push_back(std::move(turn));
  for (const Rational& here : points) {
    const Truth bits = holds(Real(here));
    if (bits == no) {
      --parameters_;
      return turned(no);
    }
    if ((bits & yes) == 0) possible &= static_cast<Truth>(~yes);
  }
  std::vector<Real> pieces{Real::between(lo.lo, hi.high())};
  Truth rest = yes;
  constexpr int most_within = 48;
  int budget = within_range_ ? std::min(range_pieces, most_within) : range_pieces;
  const bool before = std::exchange(within_range_, true);
  while (!pieces.empty()) {
    const Real piece = pieces.back();
    pieces.pop_back();
    const Truth bits = holds(piece);
    if (bits == yes) continue;
    if (piece.point || --budget <= 0) {
      rest |= bits;
      if (budget <= 0) rest = whatever;
      if (rest == whatever) break;
      continue;
    }
    const Rational middle = (piece.lo + piece.hi) / 2;
    pieces.push_back(Real::between(piece.lo, middle));
    pieces.push_back(Real::between(middle, piece.hi));
  }
  within_range_ = before;
  --parameters_;
  return turned(rest & possible);
}

}  // namespace mm_proof

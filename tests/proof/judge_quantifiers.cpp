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
  const auto holds = [&](Real at_z) {
    z = std::move(at_z);
    const Truth where = node.kids[0] != nullptr ? truth(at(node, 0)) : yes;
    if (where == no) return yes;
    return truth_or(truth_not(where), turned(node.kids[1] != nullptr ? truth(at(node, 1)) : yes));
  };
  const Rational from = lo.high(), to = hi.lo;
  Truth possible = whatever;
  for (int i = 0; i < range_points + 2; ++i) {
    Rational here = i == 0   ? from
                    : i == 1 ? to
                             : Rational(from + (to - from) * Rational(world_->draw().below(129), 128));
    const Truth bits = holds(Real(here));
    if (bits == no) return turned(no);
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
  return turned(rest & possible);
}

}  // namespace mm_proof

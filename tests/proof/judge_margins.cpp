// Margins of the judge.
#include <algorithm>
#include <utility>

#include "judge.hpp"

namespace mm_proof {

Margin Margin::of(const Real& number) {
  Margin out;
  out.some = number.exists;
  out.undefined = number.undef || !number.exists;
  out.number = number;
  return out;
}

Margin Margin::of(Truth truth) {
  Margin out;
  out.holds = (truth & yes) != 0;
  out.fails = (truth & no) != 0;
  out.undefined = (truth & mm_proof::undefined) != 0;
  return out;
}

Margin margin_not(Margin a) {
  a.number = neg(a.number);
  std::swap(a.holds, a.fails);
  return a;
}

namespace {

void widen(Margin& margin, const Real& by) {
  margin.number = margin.some ? hull(margin.number, by) : by;
  margin.some = true;
}

/// In some world it is no failure.
bool may_hold(const Margin& a) { return a.holds || (a.some && (!a.number.known || a.number.high() >= 0)); }

}  // namespace

Margin margin_and(const Margin& a, const Margin& b) {
  Margin out;
  out.fails = a.fails || b.fails;
  out.holds = a.holds && b.holds;
  if (a.some && b.some) widen(out, min(a.number, b.number));
  for (const auto& [one, other] : {std::pair{&a, &b}, std::pair{&b, &a}}) {
    if (one->some && (other->holds || other->undefined)) widen(out, one->number);
    if (one->undefined && (other->undefined || may_hold(*other))) out.undefined = true;
  }
  return out;
}

Margin Judge::compared_margin(const Node& node) {
  if (at(node, 0).sort != Sort::number || at(node, 0).dim != measure_) return Margin::of(compare(node));
  const Real a = number(at(node, 0)), b = number(at(node, 1));
  switch (node.op) {
    case Op::within:
      return Margin::of(sub(b, abs(sub(a, number(at(node, 2))))));
    case Op::in_range:
      return margin_and(Margin::of(sub(a, b)), Margin::of(sub(number(at(node, 2)), a)));
    case Op::lt:
    case Op::le:
      return Margin::of(sub(b, a));
    case Op::gt:
    case Op::ge:
      return Margin::of(sub(a, b));
    case Op::ne:
      return Margin::of(abs(sub(a, b)));
    default:
      return Margin::of(neg(abs(sub(a, b))));
  }
}

Margin Judge::table_margin(const Node& node) {
  const Table& table = scene_->tables[static_cast<std::size_t>(node.index)];
  const auto column_of = [&](std::size_t i) -> const Column& {
    return table.columns[static_cast<std::size_t>(node.columns[i])];
  };
  for (std::size_t i = 0; i < node.columns.size(); ++i)
    if (column_of(i).sort != Sort::number || column_of(i).dim != measure_) return Margin::of(in_table(node));
  Margin out = Margin::of(no);
  for (const auto& row : table.rows) {
    Margin all = Margin::of(yes);
    for (std::size_t i = 0; i < node.columns.size(); ++i) {
      const Cell& cell = row[static_cast<std::size_t>(node.columns[i])];
      const Real asked = number(at(node, i)), low(cell.lo);
      const Op relation = node.relations[i];
      if (relation == Op::lt || relation == Op::le) {
        all = margin_and(all, Margin::of(sub(asked, low)));
      } else if (relation == Op::gt || relation == Op::ge) {
        all = margin_and(all, Margin::of(sub(low, asked)));
      } else if (column_of(i).range) {
        all = margin_and(all, margin_and(Margin::of(sub(asked, low)), Margin::of(sub(Real(cell.hi), asked))));
      } else {
        all = margin_and(all, Margin::of(neg(abs(sub(asked, low)))));
      }
    }
    out = margin_or(out, all);
  }
  return out;
}

/// The least of what each item comes to (of what its denial does, where one is enough).
Margin Judge::item_margin(const Node& node, bool some) {
  Margin out = node.kids[0] != nullptr ? margin_not(margin(at(node, 0))) : Margin::of(no);
  if (node.kids[1] == nullptr) return some ? out : Margin::of(yes);
  const Margin body = margin(at(node, 1));
  return margin_or(out, some ? margin_not(body) : body);
}

Margin Judge::quantified_margin(const Node& node) {
  const Kept<EntityRef> kept(entities_[static_cast<std::size_t>(node.var)]);
  const bool some = node.op == Op::some;
  bool lost = false;
  Margin out = Margin::of(yes);
  for (const EntityRef e : domain(node, lost)) {
    entities_[static_cast<std::size_t>(node.var)] = e;
    out = margin_and(out, item_margin(node, some));
  }
  if (lost) return Margin::of(mm_proof::undefined);
  return some ? margin_not(out) : out;
}

/// Pieces bound the least from below; it is no more than what it is at a point.
Margin Judge::range_margin(const Node& node) {
  const Real lo = number(at(node, 2)), hi = number(at(node, 3));
  if (!lo.exists || !hi.exists) return Margin::of(mm_proof::undefined);
  const bool some = node.op == Op::some_z, known = lo.known && hi.known && lo.point && hi.point;
  if (!known || lo.undef || hi.undef) {
    Margin out = Margin::of(whatever);
    widen(out, Real::anything());
    return out;
  }
  Margin out = Margin::of(yes);
  Real& z = numbers_[static_cast<std::size_t>(node.var)];
  const bool before = std::exchange(within_range_, true);
  const int pieces = before ? 4 : 24;
  ++parameters_;
  const Rational step = (hi.lo - lo.lo) / pieces;
  for (int i = 0; i < pieces && lo.lo <= hi.lo; ++i) {
    const Rational from = lo.lo + step * i, to = lo.lo + step * (i + 1);
    for (const Real& piece : {Real::between(from, to), Real(from), Real(to)}) {
      z = piece;
      out = margin_and(out, item_margin(node, some));
    }
    if (step == 0) break;
  }
  --parameters_;
  within_range_ = before;
  return some ? margin_not(out) : out;
}

Margin Judge::margin(const Node& node) {
  switch (node.op) {
    case Op::let_use:
      return margin(at(node, 0));
    case Op::all_of:
      return margin_and(margin(at(node, 0)), margin(at(node, 1)));
    case Op::any_of:
      return margin_or(margin(at(node, 0)), margin(at(node, 1)));
    case Op::negate:
      return margin_not(margin(at(node, 0)));
    case Op::choose: {
      const Margin condition = margin(at(node, 0));
      Margin out = margin_or(margin_and(condition, margin(at(node, 1))),
                             margin_and(margin_not(condition), margin(at(node, 2))));
      out.undefined = out.undefined || condition.undefined;
      return out;
    }
    case Op::in_table:
      return table_margin(node);
    case Op::some:
    case Op::every:
      return quantified_margin(node);
    case Op::some_z:
    case Op::every_z:
      return range_margin(node);
    case Op::lt:
    case Op::le:
    case Op::gt:
    case Op::ge:
    case Op::eq:
    case Op::ne:
    case Op::within:
    case Op::in_range:
      return compared_margin(node);
    default:
      return Margin::of(truth(node));
  }
}

Margin Judge::margin(const Requirement& requirement, const Interface* interface, const Rule* rule,
                     const Binding& binding, Dim measure) {
  bind(interface, rule, binding);
  measure_ = measure;
  Margin out = margin(*requirement.test);
  if (rule != nullptr && rule->where != nullptr) out = margin_or(margin_not(margin(*rule->where)), out);
  if (requirement.when != nullptr) out = margin_or(margin_not(margin(*requirement.when)), out);
  return out;
}

}  // namespace mm_proof

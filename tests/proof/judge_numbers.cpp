// Numbers, tables and quantifiers of the judge.
#include <algorithm>

#include "judge.hpp"

namespace mm_proof {

namespace {

template <class T>
const T& item(const std::vector<T>& list, int i) {
  return list[static_cast<std::size_t>(i)];
}

}  // namespace

Real Judge::number(const Node& node) {
  const auto a = [&] { return number(at(node, 0)); };
  const auto b = [&] { return number(at(node, 1)); };
  switch (node.op) {
    case Op::literal:
      return Real(node.value);
    case Op::pi:
      return pi();
    case Op::parameter:
      return item(numbers_, node.var);
    case Op::attribute: {
      const Term owner = entity(at(node, 0));
      if (owner.state == undefined) return Real::nothing();
      return Real(world_->number(owner.entity, node.index));
    }
    case Op::size_field:
      return field(node);
    case Op::let_use:
      return a();
    case Op::kind_let: {
      const Term owner = entity(at(node, 0));
      if (owner.state == undefined) return Real::nothing();
      EntityRef& self = entities_[static_cast<std::size_t>(node.var)];
      const EntityRef before = self;
      self = owner.entity;
      Real out = number(at(node, 1));
      entities_[static_cast<std::size_t>(node.var)] = before;
      return out;
    }
    case Op::call:
      return call(node);
    case Op::neg:
      return neg(a());
    case Op::add:
      return add(a(), b());
    case Op::sub:
      return sub(a(), b());
    case Op::mul:
      return mul(a(), b());
    case Op::div:
      return div(a(), b());
    case Op::pow:
      return pow(a(), b());
    case Op::abs:
      return abs(a());
    case Op::min:
      return min(a(), b());
    case Op::max:
      return max(a(), b());
    case Op::sqrt:
      return sqrt(a());
    case Op::sin:
      return sin(a());
    case Op::cos:
      return cos(a());
    case Op::tan:
      return tan(a());
    case Op::asin:
      return asin(a());
    case Op::acos:
      return acos(a());
    case Op::atan:
      return atan(a());
    case Op::exp:
      return exp(a());
    case Op::ln:
      return ln(a());
    case Op::floor:
      return floor(a());
    case Op::ceil:
      return ceil(a());
    case Op::round:
      return round(a());
    case Op::choose: {
      const Truth condition = truth(at(node, 0));
      Real out = Real::nothing();
      if ((condition & yes) != 0) out = b();
      if ((condition & no) != 0) {
        const Real other = number(at(node, 2));
        out = (condition & yes) != 0 ? hull(out, other) : other;
      }
      out.undef = out.undef || (condition & undefined) != 0;
      return out;
    }
    case Op::lookup:
      return table_number(node);
    default:
      return aggregate(node);
  }
}

Real Judge::call(const Node& node) {
  const Formula& formula = item(scene_->formulas, node.index);
  std::vector<Real> arguments, before;
  for (const Node* kid : node.kids) arguments.push_back(number(*kid));
  for (std::size_t i = 0; i < formula.vars.size(); ++i) {
    Real& slot = numbers_[static_cast<std::size_t>(formula.vars[i])];
    before.push_back(slot);
    slot = arguments[i];
  }
  Real out = number(*formula.body);
  for (std::size_t i = 0; i < formula.vars.size(); ++i)
    numbers_[static_cast<std::size_t>(formula.vars[i])] = before[i];
  return out;
}

Real Judge::field(const Node& node) {
  const Term size = symbol(at(node, 0));
  if (size.state == undefined) return Real::nothing();
  if (size.word == strange_size) {
    Real out = Real::anything();
    out.undef = true;
    return out;
  }
  const Size& known = item(scene_->sizes, size.word);
  const std::optional<Rational>& value = node.index == 0   ? known.major
                                         : node.index == 1 ? known.pitch
                                                           : known.tpi;
  return value ? Real(*value) : Real::nothing();
}

Truth Judge::row_matches(const Node& node, const std::vector<Cell>& row) {
  const Table& table = item(scene_->tables, node.index);
  Truth out = yes;
  for (std::size_t i = 0; i < node.columns.size() && out != no; ++i) {
    const Cell& cell = item(row, node.columns[i]);
    const Column& column = item(table.columns, node.columns[i]);
    if (column.sort == Sort::word) {
      const Term asked = symbol(at(node, i));
      out = truth_and(out, asked.state == undefined ? undefined : asked.word == cell.word ? yes : no);
      continue;
    }
    const Real asked = number(at(node, i));
    const Real low(cell.lo), high(cell.hi);
    switch (node.relations[i]) {
      case Op::lt:
        out = truth_and(out, less(low, asked));
        break;
      case Op::le:
        out = truth_and(out, less_equal(low, asked));
        break;
      case Op::gt:
        out = truth_and(out, less(asked, low));
        break;
      case Op::ge:
        out = truth_and(out, less_equal(asked, low));
        break;
      default:
        out = truth_and(out, column.range ? truth_and(less_equal(low, asked), less_equal(asked, high))
                                          : equal(low, asked));
    }
  }
  return out;
}

Real Judge::table_number(const Node& node) {
  const Table& table = item(scene_->tables, node.index);
  const bool ordered =
      std::any_of(node.relations.begin(), node.relations.end(), [](Op op) { return op != Op::eq; });
  std::vector<int> order = world_->order(node.index);
  if (ordered) std::sort(order.begin(), order.end());
  Real out = Real::nothing();
  bool undef = true;
  for (const int row : order) {
    const Truth match = row_matches(node, item(table.rows, row));
    if (match == undefined) return Real::nothing();
    if ((match & yes) == 0) continue;
    const Real cell(item(item(table.rows, row), node.column).lo);
    out = out.exists ? hull(out, cell) : cell;
    if (match == yes) {
      undef = false;
      break;
    }
  }
  out.undef = undef;
  return out;
}

Truth Judge::in_table(const Node& node) {
  Truth out = no;
  for (const auto& row : item(scene_->tables, node.index).rows) out = truth_or(out, row_matches(node, row));
  return out;
}

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
  int budget = range_pieces;
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
  return turned(rest & possible);
}

}  // namespace mm_proof

// Numbers and tables of the judge.
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
      return world_->real(owner.entity, node.index);
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
  ++parameters_;
  Real out = number(*formula.body);
  --parameters_;
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
    const bool at_low = meets(node, &cell, 0, asked, low);
    switch (node.relations[i]) {
      case Op::lt:
        out = truth_and(out, at_low ? no : less(low, asked));
        break;
      case Op::le:
        out = truth_and(out, at_low ? yes : less_equal(low, asked));
        break;
      case Op::gt:
        out = truth_and(out, at_low ? no : less(asked, low));
        break;
      case Op::ge:
        out = truth_and(out, at_low ? yes : less_equal(asked, low));
        break;
      default: {
        const bool at_high = column.range && meets(node, &cell, 1, asked, high);
        out = truth_and(out, !column.range ? (at_low ? yes : equal(low, asked))
                                           : truth_and(at_low ? yes : less_equal(low, asked),
                                                       at_high ? yes : less_equal(asked, high)));
      }
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

}  // namespace mm_proof

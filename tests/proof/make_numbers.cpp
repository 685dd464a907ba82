#include <algorithm>

#include "make.hpp"

namespace mm_proof {

namespace {

template <class T>
const T& item(const std::vector<T>& list, int i) {
  return list[static_cast<std::size_t>(i)];
}

constexpr Dim ratio{}, length{1, 0}, area{2, 0}, turn{0, 1};

}  // namespace

Node* Maker::make(Op op, Sort sort, Dim dim, std::vector<Node*> kids) {
  Node& node = scene_.nodes.emplace_back();
  node.op = op;
  node.sort = sort;
  node.dim = dim;
  node.kids = std::move(kids);
  return &node;
}

int Maker::new_var(const std::string& prefix) {
  scene_.var_names.push_back(prefix + std::to_string(scene_.var_names.size()));
  return static_cast<int>(scene_.var_names.size()) - 1;
}

Dim Maker::any_dim() {
  const int way = draw_.below(10);
  return way < 5 ? length : way < 8 ? ratio : way < 9 ? area : turn;
}

Node* Maker::literal(Dim dim) {
  Node* node = make(Op::literal, Sort::number, dim, {});
  if (dim == turn) {
    node->value = Rational(draw_.between(1, 24) * 15, draw_.chance(50) ? 1 : 2);
  } else {
    static const int parts[] = {1, 1, 2, 4, 5, 10};
    node->value = Rational(draw_.between(1, dim.plain() ? 6 : 40), parts[draw_.below(6)]);
    if (dim.plain() && draw_.chance(15)) node->value = -node->value;
  }
  node->value.canonicalize();
  return node;
}

Node* Maker::tuned(Dim dim) {
  Node* node = make(Op::literal, Sort::number, dim, {});
  node->tuned = true;
  return node;
}

const Schema& Maker::schema_of(const EntityName& name) const {
  const int schema = name.kind >= 0 ? item(scene_.kinds, name.kind).schema
                                    : item(item(scene_.interfaces, name.interface).sides, name.side).schema;
  return item(scene_.schemas, schema);
}

/// Parts and faces that a short path names from here.
std::vector<Maker::Reach> Maker::within_reach(bool mates) {
  std::vector<Reach> out;
  const auto side_schema = [&](int interface, int side) {
    return item(item(scene_.interfaces, interface).sides, side).schema;
  };
  for (const EntityName& name : entities) {
    Node* self = make(Op::entity, Sort::entity, {}, {});
    self->var = name.var;
    if (name.kind < 0) {
      out.push_back({self, side_schema(name.interface, name.side), -1});
      continue;
    }
    const Kind& kind = item(scene_.kinds, name.kind);
    out.push_back({self, kind.schema, name.kind});
    for (std::size_t f = 0; f < kind.faces.size(); ++f) {
      if (kind.faces[f].optional && !fragment_.open_faces) continue;
      Node* face = make(Op::face, Sort::entity, {}, {self});
      face->index = static_cast<int>(f);
      face->text = kind.faces[f].name;
      out.push_back({face, side_schema(kind.faces[f].interface, kind.faces[f].side), -1});
      if (!mates || name.self || !fragment_.open_faces) continue;
      if (item(scene_.interfaces, kind.faces[f].interface).sides.size() != 2 ||
          item(scene_.interfaces, kind.faces[f].interface).sides[1].many) {
        continue;
      }
      Node* mate = make(Op::mate, Sort::entity, {}, {face});
      out.push_back({mate, side_schema(kind.faces[f].interface, 1 - kind.faces[f].side), -1});
    }
  }
  return out;
}

Node* Maker::attribute_of(const Reach& from, int attribute) {
  const AttributeDef& def = item(item(scene_.schemas, from.schema).attributes, attribute);
  Node* node = make(Op::attribute, def.sort, def.dim, {from.entity});
  node->index = attribute;
  node->text = def.name;
  return node;
}

Node* Maker::attribute(Sort sort, Dim dim, bool count) {
  std::vector<std::pair<Reach, int>> found;
  for (const Reach& reach : within_reach(draw_.chance(30))) {
    const auto& attributes = item(scene_.schemas, reach.schema).attributes;
    for (std::size_t i = 0; i < attributes.size(); ++i) {
      if (attributes[i].sort != sort || !(attributes[i].dim == dim)) continue;
      if (count && !attributes[i].count) continue;
      found.emplace_back(reach, static_cast<int>(i));
    }
  }
  if (found.empty()) return nullptr;
  const auto& [reach, at] = draw_.of(found);
  return attribute_of(reach, at);
}

Node* Maker::kind_let(Dim dim) {
  std::vector<Node*> found;
  for (const EntityName& name : entities) {
    if (name.kind < 0 || name.self) continue;
    const Kind& kind = item(scene_.kinds, name.kind);
    for (const Let& let : kind.lets) {
      if (!(let.body->dim == dim)) continue;
      Node* self = make(Op::entity, Sort::entity, {}, {});
      self->var = name.var;
      Node* node = make(Op::kind_let, Sort::number, dim, {self, let.body});
      node->var = kind.self_var;
      node->text = let.name;
      found.push_back(node);
    }
  }
  return found.empty() ? nullptr : draw_.of(found);
}

Node* Maker::leaf(Dim dim) {
  if (draw_.chance(25)) {
    for (const NumberName& name : numbers) {
      if (!(name.dim == dim)) continue;
      Node* node = make(Op::parameter, Sort::number, dim, {});
      node->var = name.var;
      return node;
    }
  }
  if (draw_.chance(12)) {
    if (Node* node = kind_let(dim)) return node;
  }
  for (const LetName& name : lets) {
    if (name.sort != Sort::number || !(name.dim == dim) || !draw_.chance(25)) continue;
    Node* node = make(Op::let_use, Sort::number, dim, {name.let->body});
    node->text = name.let->name;
    return node;
  }
  if (draw_.chance(80)) {
    if (Node* node = attribute(Sort::number, dim, false)) return node;
  }
  for (const NumberName& name : numbers) {
    if (!(name.dim == dim) || !draw_.chance(60)) continue;
    Node* node = make(Op::parameter, Sort::number, dim, {});
    node->var = name.var;
    return node;
  }
  return literal(dim);
}

Node* Maker::number(Dim dim, int depth) {
  if (depth <= 0 || draw_.chance(15)) return leaf(dim);
  const auto two = [&](Op op, Dim a, Dim b) {
    Node* left = number(a, depth - 1);
    return make(op, Sort::number, dim, {left, number(b, depth - 1)});
  };
  const auto one = [&](Op op) { return make(op, Sort::number, dim, {number(dim, depth - 1)}); };
  switch (draw_.below(14)) {
    case 0:
    case 1:
      return two(Op::add, dim, dim);
    case 2:
    case 3:
      return two(Op::sub, dim, dim);
    case 4:
      return two(draw_.chance(50) ? Op::min : Op::max, dim, dim);
    case 5:
      return one(draw_.chance(60) ? Op::abs : Op::neg);
    case 6: {
      Node* condition = truth(depth - 2);
      Node* then = number(dim, depth - 1);
      return make(Op::choose, Sort::number, dim, {condition, then, number(dim, depth - 1)});
    }
    case 7:
      if (Node* node = aggregate(dim, depth)) return node;
      return leaf(dim);
    case 8:
      if (fragment_.tables) {
        if (Node* node = table_number(dim, depth)) return node;
      }
      return two(Op::add, dim, dim);
    case 9:
      if (Node* node = call(dim, depth)) return node;
      return two(Op::mul, dim, ratio);
    default:
      break;
  }
  if (dim == area) {
    if (draw_.chance(70)) return two(Op::mul, length, length);
    Node* two_literal = literal(ratio);
    two_literal->value = 2;
    return make(Op::pow, Sort::number, dim, {number(length, depth - 1), two_literal});
  }
  if (dim == length) {
    if (draw_.chance(25)) return two(Op::div, area, length);
    if (fragment_.transcendental && draw_.chance(20)) {
      return make(Op::sqrt, Sort::number, dim, {number(area, depth - 1)});
    }
    return draw_.chance(60) ? two(Op::mul, dim, ratio) : two(Op::div, dim, ratio);
  }
  if (dim == turn) return angle(depth);
  return plain(depth);
}

Node* Maker::angle(int depth) {
  if (fragment_.transcendental && draw_.chance(60)) {
    static const Op ops[] = {Op::asin, Op::acos, Op::atan};
    return make(ops[draw_.below(3)], Sort::number, turn, {number(ratio, depth - 1)});
  }
  Node* left = number(turn, depth - 1);
  return make(draw_.chance(50) ? Op::mul : Op::div, Sort::number, turn, {left, number(ratio, depth - 1)});
}

Node* Maker::plain(int depth) {
  const auto two = [&](Op op, Dim a) {
    Node* left = number(a, depth - 1);
    return make(op, Sort::number, ratio, {left, number(a, depth - 1)});
  };
  const int way = draw_.below(20);
  if (way < 3) return two(Op::mul, ratio);
  if (way < 5) return two(Op::div, ratio);
  if (way < 8) return two(Op::div, length);
  if (way == 8) {
    if (Node* node = counted(depth)) return node;
  }
  if (way == 9) {
    if (Node* node = attribute(Sort::number, ratio, true)) return node;
  }
  if (way < 12 && fragment_.rounding) {
    static const Op ops[] = {Op::floor, Op::ceil, Op::round};
    return make(ops[draw_.below(3)], Sort::number, ratio, {number(ratio, depth - 1)});
  }
  if (way < 14 && fragment_.powers) {
    Node* exponent = literal(ratio);
    exponent->value = Rational(draw_.between(-2, 4));
    if (fragment_.transcendental && draw_.chance(30)) exponent->value = Rational(draw_.between(-5, 7), 2);
    exponent->value.canonicalize();
    Node* base = number(ratio, depth - 1);
    if (fragment_.transcendental && draw_.chance(15)) exponent = number(ratio, 1);
    return make(Op::pow, Sort::number, ratio, {base, exponent});
  }
  if (fragment_.transcendental && way < 18) {
    if (draw_.chance(50)) {
      static const Op ops[] = {Op::sin, Op::cos, Op::tan};
      return make(ops[draw_.below(3)], Sort::number, ratio, {number(turn, depth - 1)});
    }
    if (draw_.chance(8)) return make(Op::pi, Sort::number, ratio, {});
    static const Op ops[] = {Op::exp, Op::ln, Op::sqrt};
    return make(ops[draw_.below(3)], Sort::number, ratio, {number(ratio, depth - 1)});
  }
  return two(Op::sub, ratio);
}

}  // namespace mm_proof

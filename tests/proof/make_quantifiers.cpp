// Quantifiers of the generator.
#include <algorithm>

#include "make.hpp"

namespace mm_proof {

namespace {

template <class T>
const T& item(const std::vector<T>& list, int i) {
  return list[static_cast<std::size_t>(i)];
}

constexpr Dim ratio{}, length{1, 0}, turn{0, 1};

}  // namespace

bool Maker::bind(Node& node, int depth) {
  node.kids.assign(2, nullptr);
  if (!many.empty() && draw_.chance(60)) {
    node.many_var = node.var = many[0];
    many.clear();  // inside, the side's name is one of its faces
    const Interface& stack = scene_.interfaces[2];
    entities.push_back({node.var, -1, 2, static_cast<int>(stack.sides.size()) - 1});
    return true;
  }
  if (nested_ > 1) return false;
  node.kind = draw_.below(static_cast<int>(scene_.kinds.size()));
  if (fragment_.reach && draw_.chance(25)) {
    for (const EntityName& name : entities) {
      if (name.kind != 0 || name.self) continue;
      node.from = make(Op::entity, Sort::entity, {}, {});
      node.from->var = name.var;
      if (draw_.chance(30)) {
        Node* face = make(Op::face, Sort::entity, {}, {node.from});
        face->index = 2;
        face->text = scene_.kinds[0].faces[2].name;
        node.from = face;
      }
      node.kind = 0;
      node.through = {1};
      if (draw_.chance(30)) {
        node.through.push_back(0);
        node.kind = draw_.below(2);
      }
      break;
    }
  }
  node.var = new_var("q");
  entities.push_back({node.var, node.kind, -1, -1});
  ++nested_;
  if (depth > 1 && draw_.chance(45)) node.kids[0] = truth(depth - 2);
  return true;
}

void Maker::unbind(const Node& node) {
  entities.pop_back();
  if (node.many_var >= 0) {
    many.push_back(node.many_var);
  } else {
    --nested_;
  }
}

Node* Maker::counted(int depth) {
  Node* node = make(Op::count, Sort::number, ratio, {});
  if (!bind(*node, depth)) return nullptr;
  if (node->many_var >= 0 && draw_.chance(60)) node->kids[0] = truth(1);
  unbind(*node);
  return node;
}

Node* Maker::aggregate(Dim dim, int depth) {
  static const Op ops[] = {Op::sum, Op::least, Op::greatest};
  Node* node = make(ops[draw_.below(3)], Sort::number, dim, {});
  if (!bind(*node, depth)) return nullptr;
  if (node->many_var >= 0) {
    // the side must be named in the term
    EntityName side = entities.back();
    std::swap(entities, entities);
    const std::vector<EntityName> all = entities;
    entities = {side};
    node->kids[1] = attribute(Sort::number, dim, false);
    entities = all;
    if (node->kids[1] != nullptr && depth > 2 && draw_.chance(40)) {
      Node* more = number(dim, 1);
      node->kids[1] = make(Op::add, Sort::number, dim, {node->kids[1], more});
    }
  } else {
    node->kids[1] = number(dim, std::min(depth - 1, 2));
  }
  unbind(*node);
  return node->kids[1] != nullptr ? node : nullptr;
}

Node* Maker::quantifier(int depth) {
  Node* node = make(draw_.chance(50) ? Op::some : Op::every, Sort::truth, {}, {});
  if (!bind(*node, depth)) return nullptr;
  node->kids[1] = truth(depth - 1);
  unbind(*node);
  return node;
}

Node* Maker::over_range(int depth) {
  if (nested_ > 1) return nullptr;
  Node* node = make(draw_.chance(60) ? Op::every_z : Op::some_z, Sort::truth, {}, {});
  const Dim dim = draw_.chance(50) ? length : draw_.chance(70) ? ratio : turn;
  Node* lo = draw_.chance(70) ? literal(dim) : leaf(dim);
  Node* hi = draw_.chance(60) ? literal(dim) : leaf(dim);
  if (lo->op == Op::literal && hi->op == Op::literal && lo->value > hi->value && draw_.chance(90))
    std::swap(lo, hi);
  node->dim = dim;
  node->var = new_var("z");
  node->kids = {nullptr, nullptr, lo, hi};
  numbers.push_back({node->var, dim});
  ++nested_;
  if (draw_.chance(35)) node->kids[0] = comparison(1);
  node->kids[1] = draw_.chance(70) ? comparison(depth - 1) : truth(depth - 1);
  --nested_;
  numbers.pop_back();
  return node;
}

}  // namespace mm_proof

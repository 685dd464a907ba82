// Comparisons, logic, quantifiers and tables of the generator.
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

Node* Maker::words() {
  if (fragment_.sizes && draw_.chance(35)) {
    Node* a = attribute(Sort::size, {}, false);
    if (a != nullptr) {
      const int way = draw_.below(4);
      if (way == 0) {
        Node* node = make(Op::size_form, Sort::truth, {}, {a});
        node->index = draw_.below(2);
        return node;
      }
      if (way == 1) {
        Node* node = make(Op::size_field, Sort::number, length, {a});
        node->index = draw_.below(3);
        if (node->index == 2) node->dim = ratio;
        Node* limit = tuned(node->dim);
        return make(draw_.chance(50)   ? Op::ge
                    : node->index == 2 ? Op::eq
                                       : Op::le,
                    Sort::truth, {}, {node, limit});
      }
      Node* b = way == 2 ? attribute(Sort::size, {}, false) : make(Op::size_text, Sort::size, {}, {});
      if (b == nullptr) return nullptr;
      if (way == 3) {
        b->index = draw_.below(static_cast<int>(scene_.sizes.size()));
        b->text = item(scene_.sizes, b->index).text;
      }
      return make(draw_.chance(70) ? Op::eq : Op::ne, Sort::truth, {}, {a, b});
    }
  }
  Node* a = attribute(Sort::word, {}, false);
  if (a == nullptr) return nullptr;
  Node* b = draw_.chance(40) ? attribute(Sort::word, {}, false) : nullptr;
  if (b == nullptr) {
    b = make(Op::word, Sort::word, {}, {});
    b->index = draw_.below(static_cast<int>(scene_.words.size()));
    b->text = item(scene_.words, b->index);
  }
  return make(draw_.chance(70) ? Op::eq : Op::ne, Sort::truth, {}, {a, b});
}

Node* Maker::comparison(int depth) {
  const Dim dim = any_dim();
  const int way = draw_.below(10);
  if (way == 0) {
    Node* a = number(dim, depth);
    Node* limit = draw_.chance(80) ? tuned(dim) : literal(dim);
    return make(Op::within, Sort::truth, {}, {a, limit, number(dim, depth - 1)});
  }
  if (way == 1) {
    Node* a = number(dim, depth);
    Node* lo = tuned(dim);
    return make(Op::in_range, Sort::truth, {}, {a, lo, tuned(dim)});
  }
  if (way == 2) {
    // equality is for counts and what is exact
    Node* a = draw_.chance(50) ? counted(depth) : attribute(Sort::number, ratio, true);
    if (a != nullptr) {
      Node* b = draw_.chance(50) ? attribute(Sort::number, ratio, true) : nullptr;
      if (b == nullptr) {
        b = literal(ratio);
        b->value = draw_.between(0, 6);
      }
      return make(draw_.chance(70) ? Op::eq : Op::ne, Sort::truth, {}, {a, b});
    }
  }
  static const Op ops[] = {Op::lt, Op::le, Op::gt, Op::ge};
  Node* a = number(dim, depth);
  Node* b = draw_.chance(75) ? tuned(dim) : number(dim, depth - 1);
  return make(ops[draw_.below(4)], Sort::truth, {}, {a, b});
}

Node* Maker::truth(int depth) {
  const int way = depth <= 0 ? 12 + draw_.below(5) : draw_.below(20);
  const auto both = [&](Op op) {
    Node* a = truth(depth - 1);
    return make(op, Sort::truth, {}, {a, truth(depth - 1)});
  };
  Node* node = nullptr;
  switch (way) {
    case 0:
      return both(Op::all_of);
    case 1:
      return both(Op::any_of);
    case 2:
      return make(Op::negate, Sort::truth, {}, {truth(depth - 1)});
    case 3: {
      Node* condition = truth(depth - 1);
      Node* then = truth(depth - 1);
      return make(Op::choose, Sort::truth, {}, {condition, then, truth(depth - 1)});
    }
    case 4:
    case 5:
      node = quantifier(depth);
      break;
    case 6:
    case 7:
      if (fragment_.ranges) node = over_range(depth);
      break;
    case 12:
      node = attribute(Sort::truth, {}, false);
      if (node != nullptr && draw_.chance(30)) {
        Node* other = attribute(Sort::truth, {}, false);
        if (other != nullptr) node = make(draw_.chance(70) ? Op::eq : Op::ne, Sort::truth, {}, {node, other});
      }
      break;
    case 13:
      node = words();
      break;
    case 14:
      if (fragment_.tables) node = table_truth();
      break;
    case 15: {
      std::vector<int> parts;
      for (const EntityName& name : entities) {
        if (name.kind >= 0 && !name.self) parts.push_back(name.var);
      }
      if (parts.size() > 1) {
        Node* a = make(Op::entity, Sort::entity, {}, {});
        Node* b = make(Op::entity, Sort::entity, {}, {});
        a->var = parts[0];
        b->var = parts[1];
        node = make(Op::same_place, Sort::truth, {}, {a, b});
      }
      break;
    }
    default:
      break;
  }
  return node != nullptr ? node : comparison(std::max(depth, 1));
}

Node* Maker::table_number(Dim dim, int depth) {
  std::vector<std::pair<int, int>> found;
  for (std::size_t t = 0; t < scene_.tables.size(); ++t) {
    const auto& columns = scene_.tables[t].columns;
    for (std::size_t c = 1; c < columns.size(); ++c) {
      if (columns[c].sort == Sort::number && columns[c].dim == dim && !columns[c].range)
        found.emplace_back(t, c);
    }
  }
  if (found.empty()) return nullptr;
  const auto [table, column] = draw_.of(found);
  const Column& key = item(scene_.tables, table).columns[0];
  Node* node = make(Op::lookup, Sort::number, dim, {});
  node->index = table;
  node->column = column;
  node->columns = {0};
  if (key.sort == Sort::word) {
    Node* asked = attribute(Sort::word, {}, false);
    if (asked == nullptr) return nullptr;
    node->kids = {asked};
    node->relations = {Op::eq};
    return node;
  }
  static const Op ops[] = {Op::ge, Op::gt, Op::le, Op::lt};
  node->relations = {key.range          ? Op::eq
                     : draw_.chance(20) ? Op::eq
                                        : ops[draw_.below(draw_.chance(70) ? 2 : 4)]};
  node->kids = {number(key.dim, std::min(depth - 1, 1))};
  return node;
}

Node* Maker::table_truth() {
  if (scene_.tables.empty()) return nullptr;
  Node* node = make(Op::in_table, Sort::truth, {}, {});
  node->index = draw_.below(static_cast<int>(scene_.tables.size()));
  const Table& table = item(scene_.tables, node->index);
  const std::size_t keys = table.columns.size() > 1 && table.columns[1].sort == Sort::word ? 2 : 1;
  for (std::size_t i = 0; i < keys; ++i) {
    Node* asked = table.columns[i].sort == Sort::word ? attribute(Sort::word, {}, false)
                                                      : number(table.columns[i].dim, 1);
    if (asked == nullptr) return nullptr;
    node->kids.push_back(asked);
    node->columns.push_back(static_cast<int>(i));
    node->relations.push_back(Op::eq);
  }
  return node;
}

Node* Maker::call(Dim dim, int depth) {
  for (std::size_t i = 0; i < scene_.formulas.size(); ++i) {
    const Formula& formula = scene_.formulas[i];
    if (!(formula.dim == dim) || !draw_.chance(60)) continue;
    Node* node = make(Op::call, Sort::number, dim, {});
    node->index = static_cast<int>(i);
    for (const Dim& parameter : formula.dims) node->kids.push_back(number(parameter, depth - 2));
    return node;
  }
  return nullptr;
}

}  // namespace mm_proof

// Comparisons and logic of the generator.
#include <algorithm>

#include "make.hpp"

namespace mm_proof {

namespace {

template <class T>
const T& item(const std::vector<T>& list, int i) {
  return list[static_cast<std::size_t>(i)];
}

constexpr Dim ratio{}, length{1, 0};

}  // namespace

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
        b->index = draw_.below(scene_.written_sizes);
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

Node* Maker::guarded_comparison(Node*& guard) {
  const Dim dim = draw_.chance(60) ? length : ratio;
  Node* x = leaf(dim);
  Node* limit = draw_.chance(75) ? tuned(dim) : leaf(dim);
  static const Op ops[] = {Op::lt, Op::le, Op::gt, Op::ge};
  const bool swapped = draw_.chance(30);
  guard = make(ops[draw_.below(4)], Sort::truth, {}, swapped ? std::vector{limit, x} : std::vector{x, limit});
  const bool turned = draw_.chance(40);
  Node* room = make(Op::sub, Sort::number, dim, turned ? std::vector{limit, x} : std::vector{x, limit});
  if (draw_.chance(25)) room = make(Op::neg, Sort::number, dim, {room});
  if (draw_.chance(25)) room = make(Op::mul, Sort::number, dim, {room, literal(ratio)});
  Node* value = make(Op::div, Sort::number, ratio, {leaf(dim), room});
  const int way = fragment_.transcendental ? draw_.below(4) : 0;
  if (way > 1) {
    Node* part = make(Op::div, Sort::number, ratio, {room, literal(dim)});
    value = make(way == 2 ? Op::sqrt : Op::ln, Sort::number, ratio, {part});
  }
  return make(ops[draw_.below(4)], Sort::truth, {}, {value, tuned(ratio)});
}

Node* Maker::guarded() {
  Node* guard = nullptr;
  Node* body = guarded_comparison(guard);
  const auto opposite = [&] { return make(Op::negate, Sort::truth, {}, {guard}); };
  const auto in_any_order = [&](Op op, Node* a, Node* b) {
    return make(op, Sort::truth, {}, draw_.chance(60) ? std::vector{a, b} : std::vector{b, a});
  };
  switch (draw_.below(4)) {
    case 0:
      return in_any_order(Op::all_of, guard, body);
    case 1:
      return in_any_order(Op::any_of, opposite(), body);
    case 2: {
      Node* otherwise = truth(0);
      return make(Op::choose, Sort::truth, {}, {guard, body, otherwise});
    }
    default: {
      Node* otherwise = truth(0);
      return make(Op::choose, Sort::truth, {}, {opposite(), otherwise, body});
    }
  }
}

/// Two comparisons of one number with one limit, each as it comes: what holds at the limit itself, and what
/// the two have to do with each other.
Node* Maker::meeting() {
  const Dim dim = draw_.chance(60) ? length : ratio;
  Node* x = number(dim, 1);
  Node* limit = tuned(dim);
  const auto turned = [&]() -> Node* {
    static const Op ops[] = {Op::lt, Op::le, Op::gt, Op::ge};
    Node *a = x, *b = limit;
    const int way = draw_.below(6);
    if (way == 0) {
      Node* more = literal(dim);
      a = make(Op::add, Sort::number, dim, {a, more});
      b = make(Op::add, Sort::number, dim, {b, more});
    } else if (way == 1) {
      Node* times = literal(ratio);
      a = make(Op::mul, Sort::number, dim, {a, times});
      b = make(Op::mul, Sort::number, dim, {times, b});
    } else if (way == 2) {
      Node* other = leaf(dim);
      a = make(Op::sub, Sort::number, dim, {a, other});
      b = make(Op::sub, Sort::number, dim, {b, other});
    }
    Node* out =
        make(ops[draw_.below(4)], Sort::truth, {}, draw_.chance(30) ? std::vector{b, a} : std::vector{a, b});
    return draw_.chance(20) ? make(Op::negate, Sort::truth, {}, {out}) : out;
  };
  Node* first = turned();
  Node* second = turned();
  switch (draw_.below(4)) {
    case 0:
      return make(Op::all_of, Sort::truth, {}, {first, second});
    case 1:
      return make(Op::any_of, Sort::truth, {}, {first, second});
    case 2:
      return make(Op::choose, Sort::truth, {}, {first, second, turned()});
    default: {
      Node* chosen = make(Op::choose, Sort::number, dim, {first, x, limit});
      static const Op ops[] = {Op::lt, Op::le, Op::gt, Op::ge};
      return make(ops[draw_.below(4)], Sort::truth, {}, {chosen, limit});
    }
  }
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
    case 8:
      return guarded();
    case 9:
      return meeting();
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

}  // namespace mm_proof

#include "judge.hpp"

#include <algorithm>

namespace mm_proof {

namespace {

template <class T>
T& item(std::vector<T>& list, int i) {
  if (static_cast<std::size_t>(i) >= list.size()) list.resize(static_cast<std::size_t>(i) + 1);
  return list[static_cast<std::size_t>(i)];
}

template <class T>
const T& item(const std::vector<T>& list, int i) {
  return list[static_cast<std::size_t>(i)];
}

}  // namespace

Judge::Judge(const Scene& scene, World& world)
    : scene_(&scene),
      world_(&world),
      entities_(scene.var_names.size()),
      numbers_(scene.var_names.size()),
      lists_(scene.var_names.size()) {}

void Judge::bind(const Interface* interface, const Rule* rule, const Binding& binding) {
  if (interface != nullptr) {
    for (std::size_t i = 0; i < interface->sides.size(); ++i) {
      const Side& side = interface->sides[i];
      if (side.many) {
        item(lists_, side.var) = binding.lists[i];
      } else {
        item(entities_, side.var) = binding.locals[i];
      }
    }
  } else {
    for (std::size_t i = 0; i < rule->vars.size(); ++i) item(entities_, rule->vars[i]) = binding.locals[i];
  }
}

Verdicts Judge::requirement(const Requirement& requirement, const Interface* interface, const Rule* rule,
                            const Binding& binding) {
  bind(interface, rule, binding);
  Verdicts out;
  if (rule != nullptr && rule->where != nullptr) out.applies = truth(*rule->where);
  if (requirement.when != nullptr) out.applies = truth_and(out.applies, truth(*requirement.when));
  out.holds = out.applies == no ? yes : truth_or(truth_not(out.applies), truth(*requirement.test));
  return out;
}

void Judge::keep(const Node& node, const Real& seen) {
  if (!observe || !seen.exists || !seen.known) return;
  for (Node* kid : node.kids) {
    if (kid->tuned && kid->seen.size() < 64) kid->seen.push_back(seen.lo);
  }
}

Truth Judge::compare(const Node& node) {
  if (at(node, 0).sort == Sort::truth) {
    const Truth same = truth_or(truth_and(truth(at(node, 0)), truth(at(node, 1))),
                                truth_and(truth_not(truth(at(node, 0))), truth_not(truth(at(node, 1)))));
    return node.op == Op::ne ? truth_not(same) : same;
  }
  if (at(node, 0).sort != Sort::number) {
    const Term a = symbol(at(node, 0)), b = symbol(at(node, 1));
    Truth same = a.state == yes && b.state == yes ? (a.word == b.word ? yes : no) : undefined;
    if (same != undefined && at(node, 0).sort == Sort::size) same = same_size(a, b);
    return node.op == Op::ne ? truth_not(same) : same;
  }
  const Real a = number(at(node, 0)), b = number(at(node, 1));
  if (node.op == Op::within) {
    const Real apart = sub(a, number(at(node, 2))), distance = abs(apart);
    keep(node, distance);
    if (meets(node, nullptr, 0, apart, b) || meets(node, nullptr, 1, neg(apart), b))
      return less_equal(Real(0), b);  // |apart| is |b|
    return less_equal(distance, b);
  }
  keep(node, a);
  const bool equals = meets(node, nullptr, 0, a, b);
  switch (node.op) {
    case Op::in_range: {
      const Real most = number(at(node, 2));
      const bool same = b.point && most.point && b.lo == most.lo;
      const bool at_most = meets(node, nullptr, 1, a, most) || (same && equals);
      return truth_and(equals ? yes : less_equal(b, a), at_most ? yes : less_equal(a, most));
    }
    case Op::lt:
      return equals ? no : less(a, b);
    case Op::le:
      return equals ? yes : less_equal(a, b);
    case Op::gt:
      return equals ? no : less(b, a);
    case Op::ge:
      return equals ? yes : less_equal(b, a);
    case Op::ne:
      return equals ? no : truth_not(equal(a, b));
    default:
      return equals ? yes : equal(a, b);
  }
}

Truth Judge::truth(const Node& node) {
  switch (node.op) {
    case Op::yes_no:
      return node.value != 0 ? yes : no;
    case Op::attribute: {
      const Term owner = entity(at(node, 0));
      if (owner.state == undefined) return undefined;
      return world_->number(owner.entity, node.index) != 0 ? yes : no;
    }
    case Op::let_use:
      return truth(at(node, 0));
    case Op::size_form: {
      const Term size = symbol(at(node, 0));
      if (size.state == undefined) return undefined;
      if (size.word == strange_size) return open;
      return item(scene_->sizes, size.word).form == node.index ? yes : no;
    }
    case Op::same_place: {
      const Term a = entity(at(node, 0)), b = entity(at(node, 1));
      if (a.state == undefined || b.state == undefined) return undefined;
      // a part without a place is at one of its own
      const Instance& x = item(scene_->instances, a.entity.instance);
      const Instance& y = item(scene_->instances, b.entity.instance);
      return x.name == y.name || (!x.place.empty() && x.place == y.place) ? yes : no;
    }
    case Op::all_of:
      return truth_and(truth(at(node, 0)), truth(at(node, 1)));
    case Op::any_of:
      return truth_or(truth(at(node, 0)), truth(at(node, 1)));
    case Op::negate:
      return truth_not(truth(at(node, 0)));
    case Op::choose: {
      const Truth condition = truth(at(node, 0));
      Truth out = condition & undefined;
      if ((condition & yes) != 0) out |= truth(at(node, 1));
      if ((condition & no) != 0) out |= truth(at(node, 2));
      return out;
    }
    case Op::in_table:
      return in_table(node);
    case Op::some:
    case Op::every:
      return quantified(node);
    case Op::some_z:
    case Op::every_z:
      return over_range(node);
    default:
      return compare(node);
  }
}

Judge::Term Judge::entity(const Node& node) {
  Term out;
  switch (node.op) {
    case Op::face:
      out = entity(at(node, 0));
      out.entity.face = node.index;
      return out;
    case Op::part_of:
      out = entity(at(node, 0));
      out.entity.face = -1;
      return out;
    case Op::mate: {
      out = entity(at(node, 0));
      if (out.state == undefined) return out;
      const EntityRef from = out.entity;
      const int joint = item(item(scene_->instances, from.instance).joints, from.face);
      if (joint < 0) {
        out.state = undefined;
        return out;
      }
      for (const auto& side : item(scene_->joints, joint).sides) {
        for (const EntityRef other : side) {
          if (!(other == from)) out.entity = other;
        }
      }
      return out;
    }
    default:
      out.entity = item(entities_, node.var);
      return out;
  }
}

Judge::Term Judge::symbol(const Node& node) {
  Term out;
  switch (node.op) {
    case Op::attribute: {
      const Term owner = entity(at(node, 0));
      if (owner.state == undefined) return owner;
      out.word = world_->word(owner.entity, node.index);
      return out;
    }
    case Op::choose: {
      const Truth condition = truth(at(node, 0));
      if (condition == yes || condition == no) return symbol(at(node, condition == yes ? 1 : 2));
      out.state = undefined;
      return out;
    }
    case Op::lookup: {
      // a table of words: the row that is meant, if any; where that is not sure, nothing is said
      out.state = undefined;
      for (const int row : world_->order(node.index)) {
        const auto& cells = item(item(scene_->tables, node.index).rows, row);
        const Truth match = row_matches(node, cells);
        if (match == yes) {
          out.state = yes;
          out.word = item(cells, node.column).word;
          return out;
        }
      }
      return out;
    }
    default:
      out.word = node.index;
      return out;
  }
}

Truth Judge::same_size(const Term& a, const Term& b) const {
  if (a.word == strange_size || b.word == strange_size) return open;
  const Size &x = item(scene_->sizes, a.word), &y = item(scene_->sizes, b.word);
  return x.form == y.form && x.major == y.major && x.pitch == y.pitch && x.tpi == y.tpi ? yes : no;
}

Binding binding_of(const Scene&, const Joint& joint) {
  Binding out;
  out.lists = joint.sides;
  for (const auto& side : joint.sides) out.locals.push_back(side.empty() ? EntityRef{} : side[0]);
  return out;
}

std::vector<Binding> matches_of(const Scene& scene, const Rule& rule) {
  std::vector<Binding> out{{}};
  for (const int kind : rule.kinds) {
    std::vector<Binding> longer;
    for (const Binding& binding : out) {
      for (std::size_t i = 0; i < scene.instances.size(); ++i) {
        if (kind >= 0 && scene.instances[i].kind != kind) continue;
        const EntityRef e{static_cast<int>(i), -1};
        if (std::find(binding.locals.begin(), binding.locals.end(), e) != binding.locals.end()) continue;
        longer.push_back(binding);
        longer.back().locals.push_back(e);
      }
    }
    out = std::move(longer);
  }
  return out;
}

}  // namespace mm_proof

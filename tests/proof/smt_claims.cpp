#include "smt_translator.hpp"

namespace mm_proof::smt {

void Translator::bind(const Engine::Found& found) {
  if (found.interface != nullptr) {
    for (std::size_t i = 0; i < found.interface->sides.size(); ++i) {
      const Side& side = found.interface->sides[i];
      if (side.many) {
        lists_[static_cast<std::size_t>(side.var)] = found.binding.lists[i];
      } else {
        entities_[static_cast<std::size_t>(side.var)] = found.binding.locals[i];
      }
    }
  } else {
    for (std::size_t i = 0; i < found.rule->vars.size(); ++i) {
      entities_[static_cast<std::size_t>(found.rule->vars[i])] = found.binding.locals[i];
    }
  }
}

Claim Translator::truth(const Node& node) {
  switch (node.op) {
    case Op::attribute: {
      EntityRef e;
      if (!entity(kid(node, 0), e)) return {"false", "false"};
      const std::string name = cell(e, node.index);
      return {name, denied(name)};
    }
    case Op::let_use:
      return truth(kid(node, 0));
    case Op::same_place: {
      EntityRef a, b;
      entity(kid(node, 0), a);
      entity(kid(node, 1), b);
      const Instance &x = at_index(scene_.instances, a.instance), &y = at_index(scene_.instances, b.instance);
      const bool same = x.name == y.name || (!x.place.empty() && x.place == y.place);
      return {same ? "true" : "false", same ? "false" : "true"};
    }
    case Op::all_of: {
      const Claim a = truth(kid(node, 0)), b = truth(kid(node, 1));
      return {all(a.yes, b.yes), any(a.no, b.no)};
    }
    case Op::any_of: {
      const Claim a = truth(kid(node, 0)), b = truth(kid(node, 1));
      return {any(a.yes, b.yes), all(a.no, b.no)};
    }
    case Op::negate: {
      const Claim a = truth(kid(node, 0));
      return {a.no, a.yes};
    }
    case Op::choose: {
      const Claim c = truth(kid(node, 0)), a = truth(kid(node, 1)), b = truth(kid(node, 2));
      return {any(all(c.yes, a.yes), all(c.no, b.yes)), any(all(c.yes, a.no), all(c.no, b.no))};
    }
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

std::string Translator::cells() const {
  std::string out;
  for (const auto& [name, key] : named_) {
    const auto& [e, attribute] = key;
    const Value& may = world_.value(e, attribute);
    const AttributeDef& def = at_index(at_index(scene_.schemas, scene_.schema_of(e)).attributes, attribute);
    if (def.sort == Sort::truth) {
      out += "(declare-const " + name + " Bool)\n";
      if (may.single()) out += "(assert (= " + name + (*may.lo == 1 ? " true))\n" : " false))\n");
      continue;
    }
    if (def.sort == Sort::word) {
      out += "(declare-const " + name + " Int)\n(assert (or false";
      for (const int word : may.words) out += " (= " + name + " " + std::to_string(word) + ")";
      out += "))\n";
      continue;
    }
    const std::string shown = def.count ? "(to_real " + name + ")" : name;
    out += "(declare-const " + name + (def.count ? " Int)\n" : " Real)\n");
    if (may.single()) {
      out += "(assert (= " + shown + " " + rational(*may.lo) + "))\n";
      continue;
    }
    if (may.lo) out += "(assert (>= " + shown + " " + rational(*may.lo) + "))\n";
    if (may.hi) out += "(assert (<= " + shown + " " + rational(*may.hi) + "))\n";
  }
  return out;
}

bool Translator::entity(const Node& node, EntityRef& out) {
  switch (node.op) {
    case Op::face:
      if (!entity(kid(node, 0), out)) return false;
      out.face = node.index;
      return true;
    case Op::mate: {
      if (!entity(kid(node, 0), out)) return false;
      const int joint = at_index(at_index(scene_.instances, out.instance).joints, out.face);
      if (joint < 0) return false;
      const EntityRef from = out;
      for (const auto& side : at_index(scene_.joints, joint).sides) {
        for (const EntityRef other : side) {
          if (!(other == from)) out = other;
        }
      }
      return true;
    }
    default:
      out = at_index(entities_, node.var);
      return true;
  }
}

std::string Translator::cell(EntityRef e, int attribute) {
  std::string name =
      "c" + std::to_string(e.instance) + "_" + std::to_string(e.face + 1) + "_" + std::to_string(attribute);
  named_.emplace(name, std::pair{e, attribute});
  return name;
}

Term Translator::word(const Node& node) {
  if (node.op != Op::attribute) return {std::to_string(node.index)};
  EntityRef e;
  if (!entity(kid(node, 0), e)) return {"0", "false"};
  return {cell(e, node.index)};
}

Claim Translator::compare(const Node& node) {
  if (kid(node, 0).sort == Sort::truth) {
    const Claim a = truth(kid(node, 0)), b = truth(kid(node, 1));
    const Claim same{any(all(a.yes, b.yes), all(a.no, b.no)), any(all(a.yes, b.no), all(a.no, b.yes))};
    return node.op == Op::ne ? Claim{same.no, same.yes} : same;
  }
  const bool words = kid(node, 0).sort == Sort::word;
  const Term a = words ? word(kid(node, 0)) : number(kid(node, 0)),
             b = words ? word(kid(node, 1)) : number(kid(node, 1));
  std::string defined = all(a.defined, b.defined), holds;
  if (node.op == Op::within) {
    const Term c = number(kid(node, 2));
    defined = all(defined, c.defined);
    const std::string d = fresh("d");
    holds = "(let ((" + d + " (- " + a.value + " " + c.value + "))) (and (<= " + d + " " + b.value +
            ") (>= " + d + " (- " + b.value + "))))";
  } else if (node.op == Op::in_range) {
    const Term c = number(kid(node, 2));
    // a denied side settles it, defined or not; here both ends are literals
    defined = all(defined, c.defined);
    const std::string d = fresh("d");
    holds = "(let ((" + d + " " + a.value + ")) (and (<= " + b.value + " " + d + ") (<= " + d + " " +
            c.value + ")))";
  } else {
    const char* sign = node.op == Op::lt   ? "<"
                       : node.op == Op::le ? "<="
                       : node.op == Op::gt ? ">"
                       : node.op == Op::ge ? ">="
                                           : "=";
    holds = std::string("(") + sign + " " + a.value + " " + b.value + ")";
    if (node.op == Op::ne) holds = denied(holds);
  }
  return {all(defined, holds), all(defined, denied(holds))};
}

std::vector<EntityRef> Translator::domain(const Node& node) {
  if (node.many_var >= 0) return at_index(lists_, node.many_var);
  std::vector<EntityRef> out;
  for (std::size_t i = 0; i < scene_.instances.size(); ++i) {
    if (node.kind < 0 || scene_.instances[i].kind == node.kind) out.push_back({static_cast<int>(i), -1});
  }
  return out;
}

Claim Translator::where_of(const Node& node) {
  return node.kids[0] != nullptr ? truth(kid(node, 0)) : Claim{"true", "false"};
}

Claim Translator::quantified(const Node& node) {
  const Kept<EntityRef> kept(entities_[static_cast<std::size_t>(node.var)]);
  const bool some = node.op == Op::some;
  Claim out = some ? Claim{"false", "true"} : Claim{"true", "false"};
  for (const EntityRef e : domain(node)) {
    entities_[static_cast<std::size_t>(node.var)] = e;
    const Claim where = where_of(node), body = truth(kid(node, 1));
    out = some ? Claim{any(out.yes, all(where.yes, body.yes)), all(out.no, any(where.no, body.no))}
               : Claim{all(out.yes, any(where.no, body.yes)), any(out.no, all(where.yes, body.no))};
  }
  return out;
}

Claim Translator::over_range(const Node& node) {
  const bool some = node.op == Op::some_z;
  const Term lo = number(kid(node, 2)), hi = number(kid(node, 3));
  const std::string z = fresh("z"), defined = all(lo.defined, hi.defined);
  numbers_[static_cast<std::size_t>(node.var)] = {z, "true"};
  const Claim where = where_of(node), body = truth(kid(node, 1));
  const std::string in = "(and (<= " + lo.value + " " + z + ") (<= " + z + " " + hi.value + "))";
  const std::string binder = " ((" + z + " Real)) ";
  const auto exists = [&](const std::string& what) {
    return "(exists" + binder + "(and " + in + " " + what + "))";
  };
  const auto forall = [&](const std::string& what) {
    return "(forall" + binder + "(=> " + in + " " + what + "))";
  };
  if (some)
    return {all(defined, exists(all(where.yes, body.yes))), all(defined, forall(any(where.no, body.no)))};
  return {all(defined, forall(any(where.no, body.yes))), all(defined, exists(all(where.yes, body.no)))};
}

}  // namespace mm_proof::smt

#include "smt_translator.hpp"

namespace mm_proof::smt {

const Node& Translator::kid(const Node& node, std::size_t i) { return *node.kids[i]; }

std::string Translator::fresh(const char* prefix) { return prefix + std::to_string(next_++); }

Term Translator::both(const char* sign, const Node& node) {
  const Term a = number(kid(node, 0)), b = number(kid(node, 1));
  return {std::string("(") + sign + " " + a.value + " " + b.value + ")", all(a.defined, b.defined)};
}

Term Translator::extreme(const Term& a, const Term& b, bool least) {
  const std::string u = fresh("u"), v = fresh("v");
  return {"(let ((" + u + " " + a.value + ") (" + v + " " + b.value + ")) (ite (" + (least ? "<= " : ">= ") +
              u + " " + v + ") " + u + " " + v + "))",
          all(a.defined, b.defined)};
}

Term Translator::number(const Node& node) {
  switch (node.op) {
    case Op::literal:
      return {rational(node.value)};
    case Op::parameter:
      return at_index(numbers_, node.var);
    case Op::attribute: {
      EntityRef e;
      if (!entity(kid(node, 0), e)) return {"0.0", "false"};
      const std::string name = cell(e, node.index);
      const bool count = at_index(at_index(scene_.schemas, scene_.schema_of(e)).attributes, node.index).count;
      return {count ? "(to_real " + name + ")" : name};
    }
    case Op::let_use:
      return number(kid(node, 0));
    case Op::kind_let: {
      EntityRef e;
      if (!entity(kid(node, 0), e)) return {"0.0", "false"};
      std::swap(entities_[static_cast<std::size_t>(node.var)], e);
      Term out = number(kid(node, 1));
      std::swap(entities_[static_cast<std::size_t>(node.var)], e);
      return out;
    }
    case Op::call: {
      const Formula& formula = at_index(scene_.formulas, node.index);
      std::vector<Term> arguments;
      for (const Node* one : node.kids) arguments.push_back(number(*one));
      for (std::size_t i = 0; i < arguments.size(); ++i)
        std::swap(numbers_[static_cast<std::size_t>(formula.vars[i])], arguments[i]);
      Term out = number(*formula.body);
      for (std::size_t i = 0; i < arguments.size(); ++i)
        std::swap(numbers_[static_cast<std::size_t>(formula.vars[i])], arguments[i]);
      // an argument that is not used need not be defined, nor is it asked for
      return out;
    }
    case Op::neg: {
      const Term a = number(kid(node, 0));
      return {"(- " + a.value + ")", a.defined};
    }
    case Op::add:
      return both("+", node);
    case Op::sub:
      return both("-", node);
    case Op::mul:
      return both("*", node);
    case Op::div: {
      Term out = both("/", node);
      out.defined = all(out.defined, denied("(= " + number(kid(node, 1)).value + " 0.0)"));
      return out;
    }
    case Op::pow:
      return power(node);
    case Op::abs: {
      const Term a = number(kid(node, 0));
      return extreme(a, {"(- " + a.value + ")", a.defined}, false);
    }
    case Op::min:
    case Op::max:
      return extreme(number(kid(node, 0)), number(kid(node, 1)), node.op == Op::min);
    case Op::floor:
    case Op::ceil:
    case Op::round: {
      const Term a = number(kid(node, 0));
      const auto floor = [](const std::string& x) { return "(to_real (to_int " + x + "))"; };
      if (node.op == Op::floor) return {floor(a.value), a.defined};
      if (node.op == Op::ceil) return {"(- " + floor("(- " + a.value + ")") + ")", a.defined};
      const std::string u = fresh("u");
      return {"(let ((" + u + " " + a.value + ")) (ite (< " + u + " 0.0) (- " + floor("(- 0.5 " + u + ")") +
                  ") " + floor("(+ " + u + " 0.5)") + "))",
              a.defined};
    }
    case Op::choose: {
      const Claim c = truth(kid(node, 0));
      const Term a = number(kid(node, 1)), b = number(kid(node, 2));
      return {"(ite " + c.yes + " " + a.value + " " + b.value + ")",
              any(all(c.yes, a.defined), all(c.no, b.defined))};
    }
    default:
      return aggregate(node);
  }
}

Term Translator::power(const Node& node) {
  const Term a = number(kid(node, 0));
  const long n = kid(node, 1).value.get_num().get_si();
  if (n == 0) return {"1.0", a.defined};
  const std::string u = fresh("u");
  std::string times = u;
  for (long i = 1; i < std::labs(n); ++i) times += " " + u;
  if (std::labs(n) > 1) times = "(* " + times + ")";
  if (n > 0) return {"(let ((" + u + " " + a.value + ")) " + times + ")", a.defined};
  return {"(let ((" + u + " " + a.value + ")) (/ 1.0 " + times + "))",
          all(a.defined, denied("(= " + a.value + " 0.0)"))};
}

Term Translator::aggregate(const Node& node) {
  const Kept<EntityRef> kept(entities_[static_cast<std::size_t>(node.var)]);
  const bool added = node.op == Op::count || node.op == Op::sum;
  Term out{"0.0"};
  std::string present = "false";
  for (const EntityRef e : domain(node)) {
    entities_[static_cast<std::size_t>(node.var)] = e;
    const Claim where = where_of(node);
    const Term body = node.op == Op::count ? Term{"1.0"} : number(kid(node, 1));
    out.defined = all(out.defined, any(where.no, all(where.yes, body.defined)));
    if (added) {
      out.value = "(+ " + out.value + " (ite " + where.yes + " " + body.value + " 0.0))";
      continue;
    }
    const std::string u = fresh("u"), v = fresh("v");
    out.value = "(let ((" + u + " " + out.value + ") (" + v + " " + body.value + ")) (ite " + where.yes +
                " (ite " + present + " (ite (" + (node.op == Op::least ? "<= " : ">= ") + u + " " + v + ") " +
                u + " " + v + ") " + v + ") " + u + "))";
    present = any(present, where.yes);
  }
  if (!added) out.defined = all(out.defined, present);
  return out;
}

}  // namespace mm_proof::smt

// Actions of requirements, interfaces, rules and parts. Seen by parse.cpp only.
#pragma once
#include "syntax/actions_declarations.hpp"

namespace mm {

// requirements
MM_ON(need_word) { b.get<RequirementDecl>().weight = Weight::need; }
MM_END;
MM_ON(should_word) { b.get<RequirementDecl>().weight = Weight::should; }
MM_END;
MM_ON(caution_word) { b.get<RequirementDecl>().weight = Weight::caution; }
MM_END;
MM_ON(also_word) { b.get<RequirementDecl>().weight = Weight::also; }
MM_END;
MM_SET(requirement_name, RequirementDecl, name, b.name(at));
MM_SET(requirement_test, RequirementDecl, test, b.pop());
MM_SET(when_test, RequirementDecl, when, b.pop());
MM_ON(when) { check_when(b, at); }
MM_END;
template <>
struct action<g::template_chars> : template_literal {};
template <>
struct action<g::template_escape> : template_literal {};
MM_CONSTRUCT(template_text, Template) { b.template_pieces = std::move(node.pieces); }
MM_END;
MM_ON(because_text) {
  one_line(b, at);
  once(b, b.get<RequirementDecl>().because, at) = {b.literal(b.text(at)).text, at};
  b.get<RequirementDecl>().because_pieces = take(b.template_pieces);
}
MM_END;
MM_ON(remedy_text) {
  one_line(b, at);
  once(b, b.get<RequirementDecl>().remedy, at) = {b.literal(b.text(at)).text, at};
  b.get<RequirementDecl>().remedy_pieces = take(b.template_pieces);
}
MM_END;
MM_ON(source_text) { once(b, b.get<RequirementDecl>().source, at) = b.literal(text); }
MM_END;
MM_ON(settles_gate) { once(b, b.get<RequirementDecl>().settles_at, at) = b.name(at); }
MM_END;
MM_ON(hazard_name) { once(b, b.get<RequirementDecl>().hazard, at) = b.name(at); }
MM_END;
MM_RECOVERING(detail);
MM_CONSTRUCT(requirement, RequirementDecl) {
  node.span = at;
  b.requirements.push_back(std::move(node));
}
MM_END;

// interface
MM_ON(many_word) { b.get<SideDecl>().many = true; }
MM_END;
MM_SET(side_name, SideDecl, name, b.name(at));
MM_RECOVERING(side_statement);
MM_CONSTRUCT(side, SideDecl) {
  node.groups = take(b.groups);
  node.attributes = take(b.attributes);
  node.span = at;
  b.get<InterfaceDecl>().sides.push_back(std::move(node));
}
MM_END;
MM_SET(interface_name, InterfaceDecl, name, b.name(at));
MM_SET(interface_doc, InterfaceDecl, doc, b.literal(text));
MM_HEAD(interface_head);
MM_RECOVERING(interface_statement);
MM_CONSTRUCT(interface, InterfaceDecl) {
  node.lets = take(b.lets);
  node.requirements = take(b.requirements);
  declare(b, node, at);
}
MM_END;

// rule
MM_SET(rule_name, RuleDecl, name, b.name(at));
MM_SET(rule_doc, RuleDecl, doc, b.literal(text));
MM_HEAD(rule_head);
MM_ADD(rule_binder, RuleDecl, binders, take_binder(b));
MM_SET(rule_where_test, RuleDecl, where, b.pop());
MM_ON(for_word) {
  if (!b.get<RuleDecl>().binders.empty())
    throw Failure{Code::said_twice, at.begin, at.end, {"for"}, "as for w: wheel, c: caliper", {}};
}
MM_END;
MM_RECOVERING(rule_statement);
MM_CONSTRUCT(rule, RuleDecl) {
  node.lets = take(b.lets);
  node.requirements = take(b.requirements);
  declare(b, node, at);
}
MM_END;

// part
MM_SET(part_name, PartDecl, name, b.name(at));
MM_SET(part_doc, PartDecl, doc, b.literal(text));
MM_SET(part_kind, PartDecl, kind, b.name(at));
MM_HEAD(part_head);
MM_CONSTRUCT(part, PartDecl) {
  node.assignments = b.take_assignments();
  node.span = at;
  if (std::get<BuildDecl*>(b.slots) != nullptr) {
    b.get<BuildDecl>().parts.push_back(std::move(node));
  } else {
    declare(b, node, at);
  }
}
MM_END;

}  // namespace mm

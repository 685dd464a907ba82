// Actions of declarations. Seen by parse.cpp only.
#pragma once
#include "syntax/actions_values.hpp"

namespace mm {

template <typename T>
std::vector<T> take(std::vector<T>& from) {
  std::vector<T> taken(std::make_move_iterator(from.begin()), std::make_move_iterator(from.end()));
  from.clear();  // its room is used again
  return taken;
}

template <typename T>
void declare(Builder& b, T& node, Span at) {
  node.span = at;
  if constexpr (std::is_same_v<T, PartDecl>) {
    b.out.declarations.emplace_back(std::move(node));
  } else {
    b.out.declarations.emplace_back(Boxed<T>(std::move(node)));
  }
}

/// Says so when a clause stands twice.
template <typename T>
T& once(Builder& b, std::optional<T>& slot, Span at) {
  if (slot) {
    report(b, {Code::said_twice,
               at.begin,
               at.end,
               {std::string(b.text(at).substr(0, 40))},
               "keep one of them",
               {}});
    b.messages.hides_nothing();
  }
  return slot.emplace();
}

#define MM_SET(rule, type, field, make)       \
  MM_ON(rule) { b.get<type>().field = make; } \
  MM_END
#define MM_ADD(rule, type, field, make)                \
  MM_ON(rule) { b.get<type>().field.push_back(make); } \
  MM_END
#define MM_HEAD(rule) \
  template <>         \
  struct action<g::rule> : head {}
#define MM_RECOVERING(rule) \
  template <>               \
  struct action<g::rule> : recovering {}

// use, unit, currency, choice
MM_SET(use_path, UseDecl, path, b.literal(text));
MM_CONSTRUCT(use, UseDecl) {
  node.span = at;
  if (std::get<BuildDecl*>(b.slots) != nullptr) {
    b.get<BuildDecl>().uses.push_back(std::move(node));
  } else {
    declare(b, node, at);
  }
}
MM_END;
MM_SET(unit_name, UnitDecl, name, b.name(at));
MM_SET(unit_definition, UnitDecl, definition, b.take_quantity());
MM_CONSTRUCT(unit, UnitDecl) { declare(b, node, at); }
MM_END;
MM_SET(currency_name, CurrencyDecl, name, b.name(at));
MM_CONSTRUCT(currency, CurrencyDecl) { declare(b, node, at); }
MM_END;
MM_SET(choice_name, ChoiceDecl, name, b.name(at));
MM_ADD(choice_word, ChoiceDecl, choices, b.name(at));
MM_CONSTRUCT(choice, ChoiceDecl) { declare(b, node, at); }
MM_END;

// attributes
MM_SET(attribute_name, AttributeDecl, name, b.name(at));
MM_SET(attribute_type, AttributeDecl, type, std::move(b.type));
MM_ON(limits) {
  RangeValue range;
  if (text[0] != '>') range.hi = b.keep_quantity();
  if (text[0] != '<') range.lo = b.keep_quantity();
  once(b, b.get<AttributeDecl>().range, at) = std::move(range);
  b.get<AttributeDecl>().range_span = at;
}
MM_END;
MM_ON(attribute_doc) { once(b, b.get<AttributeDecl>().doc, at) = b.literal(text); }
MM_END;
MM_ON(measure_text) { once(b, b.get<AttributeDecl>().measure, at) = b.literal(text); }
MM_END;
MM_ON(spread_grade) { b.get<AttributeDecl>().spreads.push_back({grade_of(text), {}, at}); }
MM_END;
MM_ON(default_amount) {
  DefaultSpread& spread = b.get<AttributeDecl>().spreads.back();
  spread.amount = b.take_quantity();
  spread.span.end = at.end;
}
MM_END;
MM_CONSTRUCT(attribute, AttributeDecl) {
  node.span = at;
  b.attributes.push_back(std::move(node));
}
MM_END;
MM_ON(with_group) { b.groups.push_back(b.name(at)); }
MM_END;
MM_SET(let_name, LetDecl, name, b.name(at));
MM_SET(let_value, LetDecl, value, b.pop());
MM_CONSTRUCT(let, LetDecl) {
  node.span = at;
  b.lets.push_back(std::move(node));
}
MM_END;

// table
MM_SET(table_name, TableDecl, name, b.name(at));
MM_SET(table_doc, TableDecl, doc, b.literal(text));
MM_ON(column_name) {
  if (!b.cells.empty())
    throw Failure{
        Code::late_column, at.begin, at.end, {std::string(b.text(at))}, "columns stand before the rows", {}};
  b.column_range = false;
  b.attributes.push_back({});
  b.attributes.back().name = b.name(at);
}
MM_END;
MM_ON(column_mark) { b.column_range = true; }
MM_END;
MM_ON(range_mark) { b.column_range = true; }
MM_END;
MM_ON(column_type) { b.attributes.back().type = std::move(b.type); }
MM_END;
MM_ON(column) {
  b.attributes.back().span = at;
  b.attributes.back().type.range_key = b.column_range;
}
MM_END;
MM_ADD(table_source_text, TableDecl, sources, b.literal(text));
MM_ON(row_cell) {
  b.cells.push_back(b.values_read.back());
  b.values_read.pop_back();
}
MM_END;
MM_HEAD(table_head);
MM_RECOVERING(table_statement);
MM_CONSTRUCT(table, TableDecl) {
  node.columns = take(b.attributes);
  make_rows(b, node);
  declare(b, node, at);
}
MM_END;

// designation
struct pattern_literal {
  template <typename Input>
  static void apply(const Input& in, Builder& b) {
    if (b.pattern.empty() || b.pattern.back().field || b.pattern.back().optional_literal)
      b.pattern.emplace_back();
    append_literal(b.pattern.back().literal, view(in));
  }
};
template <>
struct action<g::pattern_chars> : pattern_literal {};
template <>
struct action<g::pattern_escape> : pattern_literal {};
MM_ON(field_name) {
  b.pattern.emplace_back();
  b.pattern.back().field = b.name(at);
}
MM_END;
MM_ON(field_type) { b.pattern.back().type = std::move(b.type); }
MM_END;
MM_ON(optional_literal) {
  b.pattern.emplace_back();
  b.pattern.back().optional_literal = true;
  append_literal(b.pattern.back().literal, text.substr(1, text.size() - 2));
}
MM_END;
MM_ON(form_pattern) {
  one_line(b, at);
  FormDecl& form = b.get<FormDecl>();
  form.patterns.push_back(take(b.pattern));
  form.pattern_texts.push_back(b.literal(b.text(at)));
}
MM_END;
MM_SET(form_name, FormDecl, name, b.name(at));
MM_SET(computed_name, LetDecl, name, b.name(at));
MM_SET(computed_value, LetDecl, value, b.pop());
MM_RECOVERING(computed);
MM_CONSTRUCT(computed_field, LetDecl) {
  node.span = at;
  b.lets.push_back(std::move(node));
}
MM_END;
MM_RECOVERING(form);
struct form_action : construct<FormDecl> {
  static void done(Builder& b, FormDecl& node, Span at, std::size_t) {
    node.computed = take(b.lets);
    node.span = at;
    b.get<DesignationDecl>().forms.push_back(std::move(node));
  }
};
template <>
struct action<g::named_form> : form_action {};
template <>
struct action<g::short_form> : form_action {};
MM_SET(designation_name, DesignationDecl, name, b.name(at));
MM_SET(designation_doc, DesignationDecl, doc, b.literal(text));
MM_CONSTRUCT(designation, DesignationDecl) { declare(b, node, at); }
MM_END;

// formula
MM_SET(formula_name, FormulaDecl, name, b.name(at));
MM_ADD(parameter_name, FormulaDecl, parameters, (FormulaDecl::Parameter{b.name(at), {}}));
MM_SET(parameter_type, FormulaDecl, parameters.back().type, std::move(b.type));
MM_SET(formula_type, FormulaDecl, result, std::move(b.type));
MM_SET(formula_value, FormulaDecl, body, b.pop());
MM_ON(formula_source_text) { once(b, b.get<FormulaDecl>().source, at) = b.literal(text); }
MM_END;
MM_RECOVERING(formula_source);
MM_CONSTRUCT(formula, FormulaDecl) { declare(b, node, at); }
MM_END;

// group, kind
MM_SET(group_name, GroupDecl, name, b.name(at));
MM_HEAD(group_head);
MM_RECOVERING(group_statement);
MM_CONSTRUCT(group, GroupDecl) {
  node.attributes = take(b.attributes);
  declare(b, node, at);
}
MM_END;
MM_ADD(face_name, FaceDecl, names, b.name(at));
MM_SET(face_interface, FaceDecl, interface, b.name(at));
MM_SET(face_side, FaceDecl, side, b.name(at));
MM_SET(face_optional, FaceDecl, optional, true);
MM_CONSTRUCT(face, FaceDecl) {
  node.span = at;
  b.get<KindDecl>().faces.push_back(std::move(node));
}
MM_END;
MM_SET(kind_name, KindDecl, name, b.name(at));
MM_SET(kind_doc, KindDecl, doc, b.literal(text));
MM_HEAD(kind_head);
MM_RECOVERING(kind_statement);
MM_CONSTRUCT(kind, KindDecl) {
  node.groups = take(b.groups);
  node.attributes = take(b.attributes);
  node.lets = take(b.lets);
  declare(b, node, at);
}
MM_END;

}  // namespace mm

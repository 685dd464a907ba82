// Actions of values and types. Seen by parse.cpp only.
#pragma once
#include "syntax/actions_expressions.hpp"

namespace mm {

template <typename T>
T& form_of(Builder& b) {
  auto& form = b.get<Value>().form;
  if (!std::holds_alternative<T>(form)) form = T{};
  return std::get<T>(form);
}

// What follows a quantity in its value stands behind it in the store.
MM_ON(first_quantity) { b.get<Value>().form = QuantityValue{b.keep_quantity()}; }
MM_END;
MM_ON(cell_low) { b.get<Value>().form = QuantityValue{b.keep_quantity()}; }
MM_END;
inline void make_range(Builder& b) {
  b.get<Value>().form = RangeValue{form_of<QuantityValue>(b).quantity, b.keep_quantity()};
}
MM_ON(range_high) { make_range(b); }
MM_END;
MM_ON(cell_high) { make_range(b); }
MM_END;
inline void add_spread(Builder& b, Spread spread) {
  b.keep_quantity();
  form_of<QuantityValue>(b).spread = spread;
}
MM_ON(spread_amount) { add_spread(b, Spread::symmetric); }
MM_END;
MM_ON(cell_spread) { add_spread(b, Spread::symmetric); }
MM_END;
MM_ON(plus_amount) { add_spread(b, Spread::limits); }
MM_END;
MM_ON(minus_amount) { add_spread(b, Spread::limits); }
MM_END;
MM_ON(unknown_value) { b.get<Value>().form = UnknownValue{}; }
MM_END;
MM_ON(at_least) { b.get<Value>().form = RangeValue{b.keep_quantity(), {}}; }
MM_END;
MM_ON(at_most) { b.get<Value>().form = RangeValue{{}, b.keep_quantity()}; }
MM_END;
inline void add_setting(Builder& b, AdjustableValue::Form form) {
  auto& value = form_of<AdjustableValue>(b);
  const QuantityId added = b.keep_quantity();
  if (value.quantities.count++ == 0) value.quantities.first = added;
  value.form = form;
}
MM_ON(knob_low) { add_setting(b, AdjustableValue::Form::range); }
MM_END;
MM_ON(knob_high) { add_setting(b, AdjustableValue::Form::range); }
MM_END;
MM_ON(knob_step) { add_setting(b, AdjustableValue::Form::stepped_range); }
MM_END;
MM_ON(piece_count) { add_setting(b, AdjustableValue::Form::sums); }
MM_END;
MM_ON(piece_size) { add_setting(b, AdjustableValue::Form::sums); }
MM_END;
MM_ON(setting) { add_setting(b, AdjustableValue::Form::one_of); }
MM_END;
inline void add_word(Builder& b, Span at) {
  auto& words = form_of<WordsValue>(b).words;
  const WordId added = b.tree.words.add(b.name(at));
  if (words.count++ == 0) words.first = added;
}
MM_ON(value_word) { add_word(b, at); }
MM_END;
MM_ON(cell_word) { add_word(b, at); }
MM_END;
MM_ON(text_value) { b.get<Value>().form = TextValue{b.text_literal(text)}; }
MM_END;
MM_ON(date_value) { b.get<Value>().form = DateValue{b.date(text).date}; }
MM_END;

inline Grade grade_of(std::string_view text) {
  switch (text[0]) {
    case 'm':
      return Grade::measured;
    case 't':
      return Grade::tried;
    case 'p':
      return Grade::published;
    case 'c':
      return Grade::claimed;
    default:
      return Grade::hearsay;
  }
}
MM_ON(evidence_grade) { b.get<Value>().evidence = b.tree.evidence.add({grade_of(text), {}, at}); }
MM_END;
MM_ON(evidence_note) { b.tree.evidence[b.get<Value>().evidence].note = b.text_literal(text); }
MM_END;
MM_ON(evidence) { b.tree.evidence[b.get<Value>().evidence].span = at; }
MM_END;

MM_CONSTRUCT(value, Value) {
  node.span = at;
  b.values_read.push_back(b.tree.values.add(std::move(node)));
}
MM_END;
MM_CONSTRUCT(cell, Value) {
  node.span = at;
  b.values_read.push_back(b.tree.values.add(std::move(node)));
}
MM_END;

// ---------------------------------------------------------------- assignments

inline void check_path(std::size_t length, Span at) {
  if (length > max_path_length)
    throw Failure{Code::path_too_long, at.begin, at.end, {std::to_string(max_path_length)}, "", {}};
}
MM_ON(path_name) {
  check_path(b.path_names.size() + 1, at);
  b.path_names.push_back(b.name(at));
}
MM_END;
MM_ON(assigned_path) {
  AssignmentDraft& node = b.get<AssignmentDraft>();
  if (b.face_block) node.path = b.tree.face_blocks[b.face_block].path;
  check_path(b.tree.paths.length(node.path) + b.path_names.size(), at);
  for (const Name& name : b.path_names) node.path = b.tree.paths.step(node.path, name.symbol);
  node.path_span = at;
  b.path_names.clear();
}
MM_END;
MM_ON(assigned_value) {
  AssignmentDraft& node = b.get<AssignmentDraft>();
  node.value = b.values_read.back();
  b.values_read.pop_back();
  const bool word = std::holds_alternative<WordsValue>(b.tree.values[node.value].form);
  const bool later =
      word && b.text({b.file, node.path_span.end, at.begin}).find('\n') != std::string_view::npos;
  b.doubtful = node.path_span.end;
  b.doubtful_end = later ? at.end : 0;
}
MM_END;

/// In the block of a face the face's path stands before every name.
template <>
struct action<g::face_block> : pegtl::maybe_nothing {
  template <typename Rule, pegtl::apply_mode A, pegtl::rewind_mode M, template <typename...> class Action,
            template <typename...> class Control, typename Input>
  static bool match(Input& in, Builder& b) {
    if (in.empty() || *in.current() != '{') return false;
    const FaceBlockId outer = b.face_block;
    const unsigned nesting = b.nesting;
    b.nest(b.offset(in.current()));
    const AssignmentDraft& node = b.get<AssignmentDraft>();
    b.face_block = b.tree.face_blocks.add({node.path, node.path_span.begin, outer});
    const bool matched = pegtl::match<Rule, A, M, Action, Control>(in, b);
    b.face_block = outer;
    b.nesting = nesting;
    return matched;
  }
};
template <>
struct action<g::assignment> : recovering {};
MM_CONSTRUCT(assigned, AssignmentDraft) {
  if (!node.value) return;  // a block: its own assignments are there already
  b.tree.assignments.add({node.path, node.path_span.begin, b.face_block, node.value});
}
MM_END;

// ---------------------------------------------------------------- types

MM_ON(type_choice) { b.get<TypeSyntax>().choices.push_back(b.name(at)); }
MM_END;
MM_ON(type_word) { b.get<TypeSyntax>().unit = std::exchange(b.unit, {}); }
MM_END;
MM_CONSTRUCT(type, TypeSyntax) {
  node.span = at;
  b.type = std::move(node);
}
MM_END;

}  // namespace mm

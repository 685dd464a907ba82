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

MM_ON(first_quantity) { form_of<QuantityValue>(b).quantity = b.take_quantity(); }
MM_END;
MM_ON(cell_low) { form_of<QuantityValue>(b).quantity = b.take_quantity(); }
MM_END;
inline void make_range(Builder& b) {
  RangeValue range{std::move(form_of<QuantityValue>(b).quantity), b.take_quantity()};
  b.get<Value>().form = std::move(range);
}
MM_ON(range_high) { make_range(b); }
MM_END;
MM_ON(cell_high) { make_range(b); }
MM_END;
inline void make_symmetric(Builder& b) {
  auto& value = form_of<QuantityValue>(b);
  value.plus = b.take_quantity();
  value.symmetric = true;
}
MM_ON(spread_amount) { make_symmetric(b); }
MM_END;
MM_ON(cell_spread) { make_symmetric(b); }
MM_END;
MM_ON(plus_amount) { form_of<QuantityValue>(b).plus = b.take_quantity(); }
MM_END;
MM_ON(minus_amount) { form_of<QuantityValue>(b).minus = b.take_quantity(); }
MM_END;
MM_ON(unknown_value) { b.get<Value>().form = UnknownValue{}; }
MM_END;
MM_ON(at_least) { b.get<Value>().form = RangeValue{b.take_quantity(), std::nullopt}; }
MM_END;
MM_ON(at_most) { b.get<Value>().form = RangeValue{std::nullopt, b.take_quantity()}; }
MM_END;
MM_ON(knob_low) { form_of<AdjustableValue>(b).range = RangeValue{b.take_quantity(), std::nullopt}; }
MM_END;
MM_ON(knob_high) { form_of<AdjustableValue>(b).range->hi = b.take_quantity(); }
MM_END;
MM_ON(knob_step) { form_of<AdjustableValue>(b).step = b.take_quantity(); }
MM_END;
MM_ON(piece_count) { form_of<AdjustableValue>(b).sums.push_back({b.take_quantity(), {}}); }
MM_END;
MM_ON(piece_size) { form_of<AdjustableValue>(b).sums.back().size = b.take_quantity(); }
MM_END;
MM_ON(setting) { form_of<AdjustableValue>(b).one_of.push_back(b.take_quantity()); }
MM_END;
MM_ON(value_word) { form_of<WordsValue>(b).words.push_back(b.name(text)); }
MM_END;
MM_ON(cell_word) { form_of<WordsValue>(b).words.push_back(b.name(text)); }
MM_END;
MM_ON(text_value) { b.get<Value>().form = TextValue{b.literal(text)}; }
MM_END;
MM_ON(date_value) { b.get<Value>().form = DateValue{b.date(text)}; }
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
MM_ON(evidence_grade) { b.get<Value>().evidence = Evidence{grade_of(text), std::nullopt, at}; }
MM_END;
MM_ON(evidence_note) { b.get<Value>().evidence->note = b.literal(text); }
MM_END;
MM_ON(evidence) { b.get<Value>().evidence->span = at; }
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
  b.path_names.push_back(b.name(text));
}
MM_END;
MM_ON(assigned_path) {
  Assignment& node = b.get<Assignment>();
  check_path(b.outer_names.size() + b.path_names.size(), at);
  node.outer = static_cast<std::uint32_t>(b.outer_names.size());
  if (!b.outer_names.empty())
    b.path_names.insert(b.path_names.begin(), b.outer_names.begin(), b.outer_names.end());
  node.path = {b.tree.names.add(b.path_names), at};
  b.path_names.clear();
}
MM_END;
MM_ON(assigned_value) {
  Assignment& node = b.get<Assignment>();
  node.value = b.values_read.back();
  b.values_read.pop_back();
  const bool word = std::holds_alternative<WordsValue>(b.tree.values[node.value].form);
  const bool later =
      word && b.text({b.file, node.path.span.end, at.begin}).find('\n') != std::string_view::npos;
  b.doubtful = node.path.span.end;
  b.doubtful_end = later ? at.end : 0;
}
MM_END;

/// In the block of a face the face's path stands before every name.
template <>
struct action<g::face_block> : pegtl::maybe_nothing {
  template <typename Rule, pegtl::apply_mode A, pegtl::rewind_mode M, template <typename...> class Action,
            template <typename...> class Control, typename Input>
  static bool match(Input& in, Builder& b) {
    const std::size_t outer = b.outer_names.size();
    const unsigned nesting = b.nesting;
    if (!in.empty() && *in.current() == '{') b.nest(b.offset(in.current()));
    const Run<Name> path = b.get<Assignment>().path.names;
    b.outer_names.assign(path.begin(), path.end());
    const bool matched = pegtl::match<Rule, A, M, Action, Control>(in, b);
    b.outer_names.resize(outer);
    b.nesting = nesting;
    return matched;
  }
};
template <>
struct action<g::assignment> : recovering {};
MM_CONSTRUCT(assigned, Assignment) {
  if (!node.value) return;  // a block: its own assignments are there already
  node.span = at;
  b.assignments.push_back(std::move(node));
}
MM_END;

// ---------------------------------------------------------------- types

MM_ON(type_choice) { b.get<TypeSyntax>().choices.push_back(b.name(text)); }
MM_END;
MM_ON(type_word) { b.get<TypeSyntax>().unit = std::exchange(b.unit, {}); }
MM_END;
MM_CONSTRUCT(type, TypeSyntax) {
  node.span = at;
  b.type = std::move(node);
}
MM_END;

}  // namespace mm

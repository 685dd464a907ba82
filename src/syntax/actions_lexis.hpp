// Actions of lexis, and the forms that actions take. Seen by parse.cpp only.
#pragma once
#include "syntax/actions_base.hpp"

namespace mm {

template <>
struct action<g::ws> {
  template <typename Input>
  static void apply(const Input& in, Builder& b) {
    if (in.size() == 0 && b.offset(in.begin()) == b.space_end) return;  // the space before it counts
    b.earlier_space_begin = std::exchange(b.space_begin, b.offset(in.begin()));
    b.earlier_space_end = std::exchange(b.space_end, b.offset(in.end()));
  }
};
template <>
struct action<g::comment> {
  template <typename Input>
  static void apply(const Input& in, Builder& b) {
    const std::uint32_t begin = b.offset(in.begin());
    if (!b.out.comments.empty() && b.out.comments.back().begin >= begin) return;
    std::string_view comment = view(in);
    while (comment.back() == ' ' || comment.back() == '\t' || comment.back() == '\r')
      comment.remove_suffix(1);
    b.out.comments.push_back({b.file, begin, begin + static_cast<std::uint32_t>(comment.size())});
  }
};
template <>
struct action<g::block_open> {
  template <typename Input>
  static void apply(const Input& in, Builder& b) {
    b.blocks.push_back(b.offset(in.begin()));
  }
};
template <>
struct action<g::block_close> {
  static void apply0(Builder& b) { b.blocks.pop_back(); }
};

/// The text goes on after it, so that one slip is one message.
template <>
struct action<g::broken_line> {
  template <typename Input>
  static void apply(const Input& in, Builder& b) {
    const std::uint32_t at = b.offset(in.begin()), begin = b.text_begin(at);
    if (begin == at) return;  // a further line of the text
    report(b, {Code::text_across_lines, begin, at, {}, std::string(one_line_hint), {}});
    b.messages.hides_nothing();
  }
};

/// A missing '{' before a block that stands further in on the next lines, or that is closed further on, is
/// reported and taken as written.
template <>
struct action<g::required_open> : pegtl::maybe_nothing {
  static constexpr bool always_tried = true;  // it may be taken as read where it is missing

  template <typename Rule, pegtl::apply_mode A, pegtl::rewind_mode M, template <typename...> class Action,
            template <typename...> class Control, typename Input>
  static bool match(Input& in, Builder& b) {
    if (pegtl::match<Rule, A, M, Action, Control>(in, b)) return true;
    const std::uint32_t at = b.offset(in.current());
    if (at == b.bytes.size() || at != b.space_end) return false;
    const std::size_t line_end = b.bytes.substr(0, at).rfind('\n');
    const bool on_next_line = line_end != std::string_view::npos && line_end >= b.space_begin;
    if (on_next_line ? at - (line_end + 1) <= indent_at(b, b.space_begin) : !looks_opened(b, at))
      return false;
    report(b, failure_of<g::required_open>(b, at));
    b.messages.hides_nothing();
    b.blocks.push_back(b.space_begin);
    return true;
  }
};

template <typename Number>
struct number_action {
  template <typename Input>
  static void apply(const Input& in, Builder& b) {
    b.number = {b.file, b.offset(in.begin()), b.offset(in.end())};
    b.unit = {};
  }
};
template <>
struct action<g::value_number> : number_action<g::value_number> {};
template <>
struct action<g::term_number> : number_action<g::term_number> {};
template <>
struct action<g::cell_number> : number_action<g::cell_number> {};

struct unit_action {
  template <typename Input>
  static void apply(const Input& in, Builder& b) {
    b.unit = b.read_unit(view(in));
  }
};
template <>
struct action<g::unit_product> : unit_action {};
template <>
struct action<g::known_product> : unit_action {};
template <>
struct action<g::percent_sign> : unit_action {};

template <>
struct action<g::type_unit> : unit_action {};

struct quantity_action {
  template <typename Input>
  static void apply(const Input& in, Builder& b) {
    const Span at = span_of(in, b);
    b.quantities.push_back(
        {b.file, at.begin, at.end, b.number.begin, b.number.end, b.unit.id, b.unit.span.begin});
    b.unit = {};
  }
};
template <>
struct action<g::quantity> : quantity_action {};
template <>
struct action<g::term_quantity> : quantity_action {};
template <>
struct action<g::cell_quantity> : quantity_action {};
template <>
struct action<g::bare_number> : quantity_action {};

/// An action that calls run(builder, what was matched, its span).
template <typename Self>
struct on_match {
  template <typename Input>
  static void apply(const Input& in, Builder& b) {
    Self::run(b, view(in), span_of(in, b));
  }
};

#define MM_ON(rule)                                                                      \
  template <>                                                                            \
  struct action<g::rule> : on_match<action<g::rule>> {                                   \
    static void run([[maybe_unused]] Builder& b, [[maybe_unused]] std::string_view text, \
                    [[maybe_unused]] Span at)
// NOLINTBEGIN(bugprone-macro-parentheses)
#define MM_CONSTRUCT(rule, type)                                                                         \
  template <>                                                                                            \
  struct action<g::rule> : construct<type> {                                                             \
    static void done([[maybe_unused]] Builder& b, [[maybe_unused]] type& node, [[maybe_unused]] Span at, \
                     [[maybe_unused]] std::size_t mark)
// NOLINTEND(bugprone-macro-parentheses)
#define MM_END }

}  // namespace mm

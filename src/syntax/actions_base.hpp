// The glue between grammar and builder: constructs, recovery and the control that words failures.
// Seen by parse.cpp only.
#pragma once
#include <tao/pegtl.hpp>

#include "beginning.hpp"
#include "expected.hpp"
#include "syntax/read_on.hpp"
#include "syntax/recovery.hpp"

namespace mm {

namespace pegtl = tao::pegtl;
namespace g = grammar;

template <typename Rule>
struct action : pegtl::nothing<Rule> {};

template <typename Input>
std::string_view view(const Input& in) {
  return {in.begin(), in.size()};
}

template <typename Input>
Span span_of(const Input& in, const Builder& b) {
  return b.span(b.offset(in.begin()), b.offset(in.end()));
}

/// While a construct of type T is read, get<T>() is its node; everything is put back if it fails.
template <typename T>
class NodeScope {
 public:
  NodeScope(Builder& b, std::uint32_t at) : b_(b), outer_(std::exchange(std::get<T*>(b.slots), &node)) {
    if constexpr (requires { node.open(b, at); }) {
      try {
        node.open(b, at);
      } catch (...) {
        std::get<T*>(b.slots) = outer_;
        b.nesting = nesting_;
        throw;
      }
    }
  }
  NodeScope(const NodeScope&) = delete;
  NodeScope& operator=(const NodeScope&) = delete;
  ~NodeScope() {
    close();
    if (keep_) return;
    cut(b_.items, mark);
    cut(b_.quantities, quantities_);
    cut(b_.binders, binders_);
  }
  void close() {
    std::get<T*>(b_.slots) = outer_;
    b_.nesting = nesting_;
  }
  void keep() { keep_ = true; }

 private:
  template <typename Piece>
  static void cut(std::vector<Piece>& list, std::size_t size) {
    while (list.size() > size) list.pop_back();
  }

  Builder& b_;
  T* outer_;
  unsigned nesting_ = b_.nesting;
  std::size_t quantities_ = b_.quantities.size();
  std::size_t binders_ = b_.binders.size();
  bool keep_ = false;

 public:
  T node{};
  std::size_t mark = b_.items.size();
};

/// A construct: its parts fill a T, then done(builder, T, span, mark) takes it. `mark` is where its
/// expressions begin.
template <typename T>
struct construct : pegtl::maybe_nothing {
  /// It counts as a level of nesting where it is tried, also when it does not begin there.
  static constexpr bool always_tried = requires(T node, Builder& b) { node.open(b, 0U); };

  template <typename Rule, pegtl::apply_mode A, pegtl::rewind_mode M, template <typename...> class Action,
            template <typename...> class Control, typename Input>
  static bool match(Input& in, Builder& b) {
    if constexpr (A == pegtl::apply_mode::nothing) {
      return pegtl::match<Rule, A, M, Action, Control>(in, b);
    } else {
      const std::uint32_t begin = b.offset(in.current());
      const bool broken = std::exchange(b.broken, false);
      NodeScope<T> frame(b, begin);
      if (!pegtl::match<Rule, A, M, Action, Control>(in, b)) {
        b.broken = broken;
        return false;
      }
      frame.close();
      frame.keep();
      const bool dropped = std::exchange(b.broken, broken);
      if (dropped) {
        leave_unread(b, begin, b.offset(in.current()), false);
        b.assignments_taken = b.tree.assignments.size();
      } else {
        Action<Rule>::done(b, frame.node, b.span(begin, b.offset(in.current())), frame.mark);
      }
      return true;
    }
  }
};

template <typename Rule>
inline constexpr Begins begins_like = Begins::nothing;
template <>
inline constexpr Begins begins_like<g::assignment> = Begins::assignment;
template <>
inline constexpr Begins begins_like<g::group_statement> = Begins::attribute;
template <>
inline constexpr Begins begins_like<g::side_statement> = Begins::attribute;
template <>
inline constexpr Begins begins_like<g::kind_statement> = Begins::attribute;
template <>
inline constexpr Begins begins_like<g::interface_statement> = Begins::requirement;
template <>
inline constexpr Begins begins_like<g::rule_statement> = Begins::requirement;
template <>
inline constexpr Begins begins_like<g::detail> = Begins::detail;
template <>
inline constexpr Begins begins_like<g::build_statement> = Begins::build_statement;
template <>
inline constexpr Begins begins_like<g::trial_statement> = Begins::build_statement;
template <>
inline constexpr Begins begins_like<g::declaration> = Begins::declaration;

/// Where the next statement on the line of a wrong one begins; `resume` where none surely does.
template <typename Rule>
std::uint32_t behind_on_line(Builder& b, std::uint32_t begin, std::uint32_t failed, std::uint32_t resume) {
  std::optional<std::uint32_t> at;
  if (begins_like<Rule> == Begins::assignment && failed == begin) at = taken_for_a_value(b, failed);
  const bool taken = at.has_value();
  if (!at) at = read_on(b, begin, failed, resume, begins_like<Rule>);
  if (!at) return resume;
  b.read_on_at = *at;
  // a value's name that is not known may be no more than words behind the slip
  const bool doubtful = begins_like<Rule> == Begins::assignment;
  b.messages.reads_on({b.file, *at, doubtful ? resume : *at}, taken);
  return *at;
}

/// A statement: a failure in it is reported here, and parsing goes on at the next one.
struct recovering : pegtl::maybe_nothing {
  template <typename Rule, pegtl::apply_mode A, pegtl::rewind_mode M, template <typename...> class Action,
            template <typename...> class Control, typename Input>
  static bool match(Input& in, Builder& b) {
    const std::uint32_t begin = b.offset(in.current());
    const std::size_t blocks = b.blocks.size();
    const FaceBlockId face_block = b.face_block;
    const unsigned nesting = b.nesting;
    const bool broken = b.broken;
    std::uint32_t resume = 0;
    bool hides = true, read_on = false;
    try {
      return pegtl::match<Rule, A, M, Action, Control>(in, b);
    } catch (Failure& failure) {
      const std::uint32_t failed = failure.begin;
      const bool at_end = failure.at_end, no_name = failure.no_name;
      b.blocks.resize(at_end ? b.blocks.size() : blocks);
      if (auto lost = at_end ? std::nullopt : lost_block(b, failed)) throw BlockLost(*lost);
      hides = report(b, std::move(failure)) && !no_name;
      if (std::is_same_v<Rule, g::assignment> && !at_end) b.messages.hides_nothing(), hides = false;
      resume = resume_after(b, begin, failed, blocks > 0);
      if (!at_end) resume = behind_on_line<Rule>(b, begin, failed, resume);
      read_on = b.read_on_at == resume;
    } catch (const BlockLost& lost) {
      b.blocks.resize(blocks);
      if (!b.blocks.empty() && indent_at(b, b.blocks.back()) >= lost.column) throw;
      resume = lost.line_begin;
    }
    b.blocks.resize(blocks);
    if (hides) leave_unread(b, begin, resume, read_on);
    b.face_block = face_block;
    b.nesting = nesting;
    if (!std::is_same_v<Rule, g::assignment>) b.assignments_taken = b.tree.assignments.size();
    b.path_names.clear();
    b.pattern.clear();
    b.template_pieces.clear();
    b.broken = broken;  // the head of the block around it may be wrong as well
    in.iterator() = b.bytes.data() + resume;
    return true;
  }
};

/// The head of a block: when it is wrong but its '{' is on the line, the block is still read (and its node
/// dropped).
struct head : pegtl::maybe_nothing {
  template <typename Rule, pegtl::apply_mode A, pegtl::rewind_mode M, template <typename...> class Action,
            template <typename...> class Control, typename Input>
  static bool match(Input& in, Builder& b) {
    std::uint32_t resume = 0;
    try {
      return pegtl::match<Rule, A, M, Action, Control>(in, b);
    } catch (Failure& failure) {
      const auto brace = brace_on_line(b, failure.begin);
      if (!brace) throw;
      resume = *brace;
      report(b, std::move(failure));
    }
    b.broken = true;
    in.iterator() = b.bytes.data() + resume;
    return true;
  }
};

template <typename Rule>
struct control : pegtl::normal<Rule> {
  template <pegtl::apply_mode A, pegtl::rewind_mode M, template <typename...> class Action,
            template <typename...> class Control, typename Input>
  static bool match(Input& in, Builder& b) {
    // what is not acted upon is tried as quickly as it is looked at
    constexpr bool acted_upon = !std::is_base_of_v<pegtl::nothing<Rule>, Action<Rule>>;
    constexpr bool always = requires { requires Action<Rule>::always_tried; };
    if (acted_upon && !always && !g::can_begin<Rule>(in)) return false;
    return pegtl::normal<Rule>::template match<A, M, Action, Control>(in, b);
  }
  template <typename Input>
  [[noreturn]] static void raise(const Input& in, Builder& b) {
    const std::uint32_t at = b.offset(in.current());
    throw failure_of<Rule>(b, at);
  }
};

}  // namespace mm

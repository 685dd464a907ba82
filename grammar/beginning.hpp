// What the rules can begin with, worked out from the grammar while compiling: a rule that cannot begin with
// the next character is not tried. Most alternatives of a choice fail so, at the price of one look.
#pragma once
#include <cstdint>
#include <tao/pegtl.hpp>

#include "tokens.hpp"

namespace mm::grammar {

/// A set of characters.
struct Characters {
  std::uint64_t bits[4] = {};

  constexpr void add(char c) {
    const auto at = static_cast<unsigned char>(c);
    bits[at / 64] |= std::uint64_t{1} << at % 64U;
  }
  constexpr void add(const Characters& others) {
    for (int i = 0; i < 4; ++i) bits[i] |= others.bits[i];
  }
  constexpr bool has(char c) const {
    const auto at = static_cast<unsigned char>(c);
    return (bits[at / 64] >> at % 64U & 1U) != 0;
  }
};

/// Whatever a rule reads begins with one of `first`. `known` is false where nothing is said: the rule may
/// raise an error, or looks at more than characters.
struct Beginning {
  bool known = false;
  bool may_be_empty = true;
  Characters first;
};

template <bool (*Of)(char)>
constexpr Characters characters_of() {
  Characters set;
  for (int c = 0; c < 256; ++c)
    if (Of(static_cast<char>(c))) set.add(static_cast<char>(c));
  return set;
}
template <char... C>
constexpr Characters these() {
  Characters set;
  (set.add(C), ...);
  return set;
}

template <typename Rule>
constexpr Beginning beginning_of();

// By the form of a rule. Forms that are not here are not known.
template <typename Form>
struct BeginningOf {
  static constexpr Beginning get() { return {}; }
};
template <bool (*Of)(char)>
struct BeginsWith {
  static constexpr Beginning get() { return {true, false, characters_of<Of>()}; }
};

namespace forms = tao::pegtl::internal;

template <char... C>
struct BeginningOf<forms::one<forms::result_on_found::success, forms::peek_char, C...>> {
  static constexpr Beginning get() { return {true, false, these<C...>()}; }
};
template <char C, char... More>
struct BeginningOf<forms::string<C, More...>> {
  static constexpr Beginning get() { return {true, false, these<C>()}; }
};
template <>
struct BeginningOf<tao::pegtl::digit::rule_t> : BeginsWith<is_digit> {};
template <Word W>
struct BeginningOf<literal<W>> {
  static constexpr Beginning get() { return {true, false, these<W.text[0]>()}; }
};
template <bool (*Of)(char)>
struct BeginningOf<run_of<Of>> : BeginsWith<Of> {};
template <bool (*Of)(char)>
struct BeginningOf<any_of<Of>> {
  static constexpr Beginning get() { return {true, true, characters_of<Of>()}; }
};
template <>
struct BeginningOf<any_word> : BeginsWith<is_letter> {};
template <>
struct BeginningOf<known_unit> : BeginsWith<is_letter> {};
template <typename Words>
struct BeginningOf<one_word_of<Words>> : BeginsWith<is_letter> {};
template <typename Words>
struct BeginningOf<word_other_than<Words>> : BeginsWith<is_letter> {};

template <typename Rule>
struct BeginningOf<forms::not_at<Rule>> {  // what follows decides
  static constexpr Beginning get() { return {true, true, {}}; }
};
template <typename Rule>
struct BeginningOf<forms::at<Rule>> {
  static constexpr Beginning get() { return beginning_of<Rule>(); }
};
template <typename Rule>
struct BeginningOf<forms::plus<Rule>> : BeginningOf<forms::at<Rule>> {};
template <unsigned Count, typename Rule>
struct BeginningOf<forms::rep<Count, Rule>> : BeginningOf<forms::at<Rule>> {};
template <typename Rule>
struct BeginningOf<forms::star<Rule>> {
  static constexpr Beginning get() {
    Beginning begin = beginning_of<Rule>();
    begin.may_be_empty = true;
    return begin;
  }
};
template <typename Rule>
struct BeginningOf<forms::opt<Rule>> : BeginningOf<forms::star<Rule>> {};

template <typename... Rules>
struct BeginningOf<forms::seq<Rules...>> {
  static constexpr Beginning get() {
    Beginning all{true, true, {}};
    (add<Rules>(all), ...);
    return all;
  }
  template <typename Rule>
  static constexpr void add(Beginning& all) {
    if (!all.known || !all.may_be_empty) return;
    const Beginning begin = beginning_of<Rule>();
    all.first.add(begin.first);
    all.known = begin.known;
    all.may_be_empty = begin.may_be_empty;
  }
};
template <typename... Rules>
struct BeginningOf<forms::sor<Rules...>> {
  static constexpr Beginning get() {
    Beginning any{true, false, {}};
    (add<Rules>(any), ...);
    return any;
  }
  template <typename Rule>
  static constexpr void add(Beginning& any) {
    if (!any.known) return;
    const Beginning begin = beginning_of<Rule>();
    any.first.add(begin.first);
    any.known = begin.known;
    any.may_be_empty = any.may_be_empty || begin.may_be_empty;
  }
};

template <typename Rule>
constexpr Beginning beginning_of() {
  return BeginningOf<typename Rule::rule_t>::get();
}

/// False where the rule surely fails here. Rules that are one look themselves are not looked at twice.
template <typename Rule, typename Input>
bool can_begin(const Input& in) {
  if constexpr (std::is_same_v<typename Rule::subs_t, tao::pegtl::empty_list>) {
    return true;
  } else {
    static constexpr Beginning begin = beginning_of<Rule>();
    if constexpr (!begin.known || begin.may_be_empty)
      return true;
    else
      return in.current() != in.end() && begin.first.has(*in.current());
  }
}

}  // namespace mm::grammar

// What a rule begins with, where that is a fixed word or mark: a construct that does not begin here need not be tried.
// Seen by parse.cpp only.
#pragma once
#include <tao/pegtl.hpp>

#include "tokens.hpp"

namespace mm {

/// may_match is false only where `Rule` surely fails at the input's place, without an error and without an action.
/// Nothing is known of a rule that is not listed.
template <typename Rule, typename = void>
struct Beginning {
  template <typename Input>
  static bool may_match(const Input&) {
    return true;
  }
};

template <char... C>
struct Beginning<tao::pegtl::one<C...>> {
  template <typename Input>
  static bool may_match(const Input& in) {
    return in.current() != in.end() && ((*in.current() == C) || ...);
  }
};

template <char C, char... More>
struct Beginning<tao::pegtl::string<C, More...>> : Beginning<tao::pegtl::one<C>> {};

template <grammar::Word W>
struct Beginning<grammar::literal<W>> {
  template <typename Input>
  static bool may_match(const Input& in) {
    Input ahead(in.current(), in.end(), "");
    return grammar::literal<W>::match(ahead);
  }
};

template <typename>
struct IsSequence : std::false_type {};
template <typename First, typename... Rest>
struct IsSequence<tao::pegtl::internal::seq<First, Rest...>> : std::true_type {
  using Begin = First;
};
template <typename>
struct IsChoice : std::false_type {};
template <typename... Rules>
struct IsChoice<tao::pegtl::internal::sor<Rules...>> : std::true_type {
  template <typename Input>
  static bool may_match(const Input& in) {
    return (Beginning<Rules>::may_match(in) || ...);
  }
};

template <typename Rule>
struct Beginning<Rule, std::enable_if_t<IsSequence<typename Rule::rule_t>::value>>
    : Beginning<typename IsSequence<typename Rule::rule_t>::Begin> {};
template <typename Rule>
struct Beginning<Rule, std::enable_if_t<IsChoice<typename Rule::rule_t>::value>> : IsChoice<typename Rule::rule_t> {};

}  // namespace mm

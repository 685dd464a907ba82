// Rules that PEGTL does not have: a literal spelled as a string, one of several words, and a unit known
// without a declaration.
#pragma once
#include <algorithm>
#include <cstddef>
#include <string_view>
#include <tao/pegtl.hpp>
#include <tao/pegtl/contrib/analyze_traits.hpp>

#include "base/unit_names.hpp"

namespace mm::grammar {

/// A string literal as a template argument.
template <std::size_t N>
struct Word {
  char text[N] = {};
  constexpr Word(const char (&literal)[N]) { std::copy_n(literal, N, text); }
  constexpr std::string_view view() const { return {text, N - 1}; }
};

template <Word W>
struct literal {
  using rule_t = literal;
  using subs_t = tao::pegtl::empty_list;
  template <typename Input>
  static bool match(Input& in) {
    constexpr std::size_t length = W.view().size();
    if (in.size(length) < length || std::string_view(in.current(), length) != W.view()) return false;
    in.bump(length);
    return true;
  }
};

inline bool part_of_name(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_';
}

/// A whole word that is one of these.
template <Word... W>
struct one_word_of {
  using rule_t = one_word_of;
  using subs_t = tao::pegtl::empty_list;
  static constexpr std::size_t longest = std::max({W.view().size()...});
  template <typename Input>
  static bool match(Input& in) {
    const std::size_t available = in.size(longest + 1);
    std::size_t length = 0;
    while (length < available && part_of_name(in.current()[length])) ++length;
    const std::string_view word(in.current(), length);
    if (length > longest || !((word == W.view()) || ...)) return false;
    in.bump(length);
    return true;
  }
};

/// A built-in unit, or three capital letters (a currency).
struct known_unit {
  using rule_t = known_unit;
  using subs_t = tao::pegtl::empty_list;
  static bool capital(char c) { return c >= 'A' && c <= 'Z'; }
  template <typename Input>
  static bool match(Input& in) {
    const std::size_t available = in.size(longest_unit_name + 1);
    std::size_t length = 0;
    while (length < available && length <= longest_unit_name && part_of_name(in.current()[length])) ++length;
    const std::string_view word(in.current(), length);
    const bool currency = length == 3 && std::all_of(word.begin(), word.end(), capital);
    if (!currency && !is_builtin_unit_name(word)) return false;
    in.bump(length);
    return true;
  }
};

}  // namespace mm::grammar

namespace TAO_PEGTL_NAMESPACE {

template <typename Name, mm::grammar::Word W>
struct analyze_traits<Name, mm::grammar::literal<W>> : analyze_any_traits<> {};
template <typename Name, mm::grammar::Word... W>
struct analyze_traits<Name, mm::grammar::one_word_of<W...>> : analyze_any_traits<> {};
template <typename Name>
struct analyze_traits<Name, mm::grammar::known_unit> : analyze_any_traits<> {};

}  // namespace TAO_PEGTL_NAMESPACE

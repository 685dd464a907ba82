// Rules that PEGTL does not have, or that are read so often that they are a plain loop here: runs of
// characters, words, and a unit known without a declaration.
#pragma once
#include <algorithm>
#include <cstddef>
#include <cstring>
#include <string_view>
#include <tao/pegtl.hpp>
#include <tao/pegtl/contrib/analyze_traits.hpp>
#include <utility>

#include "base/characters.hpp"
#include "base/unit_names.hpp"
#include "base/word_set.hpp"

namespace mm::grammar {

/// A string literal as a template argument.
template <std::size_t N>
struct Word {
  char text[N] = {};
  constexpr Word(const char (&literal)[N]) { std::copy_n(literal, N, text); }
  constexpr std::string_view view() const { return {text, N - 1}; }
};

struct scanner {
  using subs_t = tao::pegtl::empty_list;
};

/// The characters of a literal, one after the other.
template <Word W>
struct literal : scanner {
  using rule_t = literal;
  template <typename Input>
  static bool match(Input& in) {
    constexpr std::size_t length = W.view().size();
    if (static_cast<std::size_t>(in.end() - in.current()) < length) return false;
    const bool same = [&]<std::size_t... I>(std::index_sequence<I...>) {
      return ((in.current()[I] == W.text[I]) && ...);
    }
    (std::make_index_sequence<length>());
    if (same) in.bump(length);
    return same;
  }
};

/// One or more characters that `Of` is true of.
template <bool (*Of)(char)>
struct run_of : scanner {
  using rule_t = run_of;
  template <typename Input>
  static bool match(Input& in) {
    const char* at = in.current();
    const char* const end = in.end();
    while (at != end && Of(*at)) ++at;
    const bool some = at != in.current();
    in.bump(static_cast<std::size_t>(at - in.current()));
    return some;
  }
};

/// The same, or none.
template <bool (*Of)(char)>
struct any_of : scanner {
  using rule_t = any_of;
  template <typename Input>
  static bool match(Input& in) {
    (void)run_of<Of>::match(in);
    return true;
  }
};

template <char... C>
constexpr bool is_none_of(char c) {
  return ((c != C) && ...);
}

/// What is left of the line, without its end.
struct rest_of_line : scanner {
  using rule_t = rest_of_line;
  template <typename Input>
  static bool match(Input& in) {
    const auto left = static_cast<std::size_t>(in.end() - in.current());
    const void* end = left == 0 ? nullptr : std::memchr(in.current(), '\n', left);
    in.bump(end == nullptr ? left : static_cast<std::size_t>(static_cast<const char*>(end) - in.current()));
    return true;
  }
};

/// The word that stands next; empty where none does.
template <typename Input>
std::string_view word_ahead(const Input& in) {
  return {in.current(), word_length(in.current(), in.end())};
}

template <typename Input>
bool take_if(Input& in, bool wanted, std::size_t length) {
  if (wanted) in.bump(length);
  return wanted;
}

template <Word... W>
struct word_list {
  static constexpr WordSet set{std::array<std::string_view, sizeof...(W)>{W.view()...}};
};

/// A whole word that is one of these.
template <typename Words>
struct one_word_of : scanner {
  using rule_t = one_word_of;
  template <typename Input>
  static bool match(Input& in) {
    const std::string_view word = word_ahead(in);
    return take_if(in, Words::set.contains(word), word.size());
  }
};

/// A letter, and letters, digits and '_' after it.
struct any_word : scanner {
  using rule_t = any_word;
  template <typename Input>
  static bool match(Input& in) {
    const std::string_view word = word_ahead(in);
    return take_if(in, !word.empty() && is_letter(word[0]), word.size());
  }
};

/// Such a word that is none of these.
template <typename Words>
struct word_other_than : scanner {
  using rule_t = word_other_than;
  template <typename Input>
  static bool match(Input& in) {
    const std::string_view word = word_ahead(in);
    return take_if(in, !word.empty() && is_letter(word[0]) && !Words::set.contains(word), word.size());
  }
};

/// A built-in unit, or three capital letters (a currency).
struct known_unit : scanner {
  using rule_t = known_unit;
  static bool capital(char c) { return c >= 'A' && c <= 'Z'; }
  template <typename Input>
  static bool match(Input& in) {
    const std::string_view word = word_ahead(in);
    const bool currency = word.size() == 3 && capital(word[0]) && capital(word[1]) && capital(word[2]);
    return take_if(in, currency || is_builtin_unit_name(word), word.size());
  }
};

}  // namespace mm::grammar

namespace TAO_PEGTL_NAMESPACE {

template <typename Name, mm::grammar::Word W>
struct analyze_traits<Name, mm::grammar::literal<W>> : analyze_any_traits<> {};
template <typename Name, bool (*Of)(char)>
struct analyze_traits<Name, mm::grammar::run_of<Of>> : analyze_any_traits<> {};
template <typename Name, bool (*Of)(char)>
struct analyze_traits<Name, mm::grammar::any_of<Of>> : analyze_opt_traits<> {};
template <typename Name>
struct analyze_traits<Name, mm::grammar::rest_of_line> : analyze_opt_traits<> {};
template <typename Name, typename Words>
struct analyze_traits<Name, mm::grammar::one_word_of<Words>> : analyze_any_traits<> {};
template <typename Name>
struct analyze_traits<Name, mm::grammar::any_word> : analyze_any_traits<> {};
template <typename Name, typename Words>
struct analyze_traits<Name, mm::grammar::word_other_than<Words>> : analyze_any_traits<> {};
template <typename Name>
struct analyze_traits<Name, mm::grammar::known_unit> : analyze_any_traits<> {};

}  // namespace TAO_PEGTL_NAMESPACE

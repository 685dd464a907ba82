#include "syntax/wording.hpp"

#include <algorithm>
#include <array>

#include "base/near_miss.hpp"
#include "base/unit_names.hpp"
#include "base/utf8.hpp"
#include "syntax/begins.hpp"
#include "syntax/scan.hpp"

namespace mm {

namespace {

/// Statements of an interface, which begin as an attribute does.
constexpr std::string_view statement_words[] = {"need", "should", "caution", "also",
                                                "let",  "one",    "many",    "side"};

/// A word, or a number with its point.
std::string_view token_at(std::string_view bytes, std::size_t at) {
  std::string_view word = word_at(bytes, at);
  const std::size_t end = at + word.size();
  if (!is_letter(bytes[at]) && end + 1 < bytes.size() && bytes[end] == '.' && is_in_word(bytes[end + 1]))
    word = bytes.substr(at, word.size() + 1 + word_at(bytes, end + 1).size());
  return word;
}

}  // namespace

std::string quoted(std::string_view token) {
  std::string result = "'";
  result.append(token).append("'");
  return result;
}

std::string found_at(const Builder& builder, std::uint32_t at) {
  const std::string_view bytes = builder.bytes;
  if (at >= bytes.size()) return "the end of the file";
  const std::size_t solid = bytes.find_first_not_of(" \t", at);
  if (solid == std::string_view::npos ||
      std::string_view("\r\n#").find(bytes[solid]) != std::string_view::npos)
    return "the end of the line";
  const char c = bytes[at];
  if (c == '"') return "a text";
  if (is_in_word(c)) return quoted(token_at(bytes, at).substr(0, 60));
  return quoted(bytes.substr(at, next_character(bytes, at + 1) - at));
}

std::uint32_t found_end(const Builder& builder, std::uint32_t at) {
  const std::string_view bytes = builder.bytes;
  if (at >= bytes.size() || bytes[at] == '\n' || bytes[at] == '\r') return at;
  if (bytes[at] == '"') return static_cast<std::uint32_t>(text_end(bytes, at));
  if (is_in_word(bytes[at])) return at + static_cast<std::uint32_t>(token_at(bytes, at).size());
  return static_cast<std::uint32_t>(next_character(bytes, at + 1));
}

std::string_view word_before(std::string_view bytes, std::size_t end) {
  constexpr std::size_t longest = 40;
  while (end > 0 && is_blank(bytes[end - 1])) --end;
  std::size_t begin = end;
  while (begin > 0 && end - begin < longest && (is_in_word(bytes[begin - 1]) || bytes[begin - 1] == '.'))
    --begin;
  return bytes.substr(begin, end - begin);
}

namespace {

bool begins_any_statement(std::string_view bytes, std::size_t at) {
  constexpr std::array all = {Begins::declaration, Begins::requirement, Begins::build_statement};
  return std::any_of(all.begin(), all.end(), [&](Begins one) { return begins_here(bytes, at, one); });
}

}  // namespace

std::string name_in_one_word(std::string_view bytes, std::size_t at, std::string_view behind) {
  constexpr unsigned most_words = 5;
  const std::string_view first = word_before(bytes, at);
  const auto part_at = [&](std::size_t i) { return i < bytes.size() && is_in_word(bytes[i]); };
  const bool hyphen = at > 0 && at < bytes.size() && bytes[at] == '-' && part_at(at - 1) && part_at(at + 1);
  if (first.empty() || !is_letter(first.front()) || holds(reserved_words, first) ||
      first.find('.') != std::string_view::npos || (!hyphen && (behind.empty() || !part_at(at))))
    return {};
  std::string name(first);
  std::size_t i = hyphen ? at : at - 1;
  for (unsigned words = 1; words <= most_words; ++words) {
    std::size_t next = i;
    while (next < bytes.size() && ((!hyphen && is_blank(bytes[next])) || bytes[next] == '-')) ++next;
    const std::string_view word = next < bytes.size() ? word_at(bytes, next) : std::string_view{};
    if (next == i || word.empty() || word == behind) break;
    if (holds(reserved_words, word) || begins_any_statement(bytes, next)) return {};
    name.append("_").append(word);
    i = next + word.size();
  }
  while (i < bytes.size() && is_blank(bytes[i])) ++i;
  return hyphen || bytes.substr(i).starts_with(behind) ? name : std::string();
}

std::optional<Failure> upper_case_word(std::string_view bytes, std::size_t at) {
  constexpr std::array<std::string_view, 11> words = {"and",  "or",  "not",   "if",  "then",  "else",
                                                      "when", "has", "where", "for", "within"};
  if (at > bytes.size()) return std::nullopt;
  for (const std::string_view seen : {word_at(bytes, at), word_before(bytes, at)}) {
    const std::string near = nearest_name(seen, words);
    if (seen.empty() || near.size() != seen.size() || holds(words, seen)) continue;
    const bool same = std::equal(near.begin(), near.end(), seen.begin(), [](char small, char any) {
      return any == small || any == small - 'a' + 'A';
    });
    if (!same) continue;
    const auto begin = static_cast<std::uint32_t>(seen.data() - bytes.data());
    const auto end = begin + static_cast<std::uint32_t>(seen.size());
    return Failure{Code::cannot_read,
                   begin,
                   end,
                   {quoted(seen)},
                   "write " + near + (near == "if" ? ", as if CONDITION then A else B" : ""),
                   {}};
  }
  return std::nullopt;
}

std::string hint_for_reserved(std::string_view bytes, std::size_t at, std::string_view expected) {
  const std::string_view first = word_before(bytes, at);
  if (expected != "an attribute's name" || word_at(bytes, at) != "or" || first.empty() ||
      !is_letter(first.front()))
    return "choose another name";
  const auto begin = static_cast<std::size_t>(first.data() - bytes.data());
  const std::size_t last = bytes.find_last_not_of(" \t", begin == 0 ? 0 : begin - 1);
  if (last != std::string_view::npos && bytes[last] == ':')
    return "a choice of words is written one of flat, round";
  return "words of which it is one are separated by commas, as flat, round";
}

namespace {

/// Of "part w is a wheel": the article, which was taken for the kind.
std::string_view article_before(std::string_view bytes, std::size_t at) {
  const std::string_view article = word_before(bytes, at);
  if (article != "a" && article != "an" && article != "the") return {};
  return word_before(bytes, static_cast<std::size_t>(article.data() - bytes.data())) == "is"
             ? article
             : std::string_view{};
}

/// Of "fan-belt" and "fan belt", where a name was read up to the hyphen or blank.
std::string hint_for_name(std::string_view bytes, std::size_t at, Wanted wanted) {
  const std::string_view expected = wanted.what;
  if (bytes[at] == '\'' && expected.ends_with("name"))
    return "a name is one word without quotes, as first_hose";
  const bool value = expected == "an attribute's name" && wanted.hint.starts_with("an attribute is");
  std::string_view behind;  // the sign or word that is expected behind the name
  if (expected.starts_with("'")) behind = expected.substr(1, expected.find('\'', 1) - 1);
  if (holds(statement_words, word_before(bytes, at)) || word_before(bytes, at) == "each") return {};
  const std::string name = name_in_one_word(bytes, at, behind);
  if (name.empty()) return {};
  return (value ? "a word has no hyphen: write " : "a name is one word: write ") + name +
         (value ? ", or a text in quotes" : "");
}

/// Of "3 mm per measured +- 1 mm", "b n/a", "b is 3 mm" behind what was read as a value.
std::string hint_behind_value(std::string_view bytes, std::size_t at) {
  const std::string_view before = word_before(bytes, at), rest = bytes.substr(at);
  if (rest.starts_with("+-") || rest.starts_with("+/-") || rest.starts_with("\u00B1")) {
    const std::size_t line = bytes.rfind('\n', at) + 1;  // 0 where there is none before
    const std::size_t from = std::max(line, at - std::min<std::size_t>(at, 200));
    if (bytes.substr(from, at - from).find(" per ") != std::string_view::npos)
      return "the spread stands before per, as 32 mm +- 0.2 mm per measured";
  }
  if ((before == "n" || before == "N") && (rest.starts_with("/a") || rest.starts_with("/A")))
    return "write ? for what is not known yet";
  if (before == "is" && !rest.empty() && is_digit(rest.front()))
    return "leave \"is\" out: a value stands behind its name, as circle 108 mm";
  return {};
}

/// Of "if(a > b, c, d)" before `at`.
bool holds_call_of_if(std::string_view bytes, std::size_t at) {
  std::size_t depth = 0;
  for (std::size_t i = at; i > 0 && bytes[i - 1] != '\n'; --i) {
    if (bytes[i - 1] == ')') ++depth;
    if (bytes[i - 1] == '(' && depth-- <= 1) return word_before(bytes, i - 1) == "if";
  }
  return false;
}

}  // namespace

std::string nearer_hint(std::string_view bytes, std::uint32_t at, Wanted wanted) {
  const std::string_view expected = wanted.what;
  if (at >= bytes.size()) return {};
  const char c = bytes[at];
  const std::string_view before = word_before(bytes, at);
  if (expected == "a value or a block" && (c == '=' || c == ':'))
    return "leave the '" + std::string(1, c) + "' out: a value stands behind its name, as circle 108 mm";
  const auto digit_at = [&](std::size_t i) { return i < bytes.size() && bytes[i] >= '0' && bytes[i] <= '9'; };
  if (expected == "'{'" && is_letter(c))
    if (const std::string_view article = article_before(bytes, at); !article.empty())
      return "leave \"" + std::string(article) + "\" out: the kind's name stands behind 'is'";
  if (const std::string hint = hint_for_name(bytes, at, wanted); !hint.empty()) return hint;
  if (expected == "an attribute's name")
    if (const std::string hint = hint_behind_value(bytes, at); !hint.empty()) return hint;
  if (c == '\'' && !expected.ends_with("name")) return "a text stands in double quotes, as \"first hose\"";
  if (c == '|' && expected.starts_with("a cell")) return "leave the bars out: cells are separated by blanks";
  if (expected.starts_with("'in'") && holds_call_of_if(bytes, at)) return "as if CONDITION then A else B";
  if (expected == "':'" && before == "each") return "leave \"each\" out: for w: wheel";
  if (expected == "':' and a type" && before != "optional" &&
      !nearest_name(before, std::array<std::string_view, 1>{"optional"}).empty())
    return "did you mean 'optional'?";
  if (expected == "':' and a type" && holds(statement_words, before))
    return "an attribute is written NAME: TYPE; or is the '}' of this block missing above?";
  if (c == ',' && at > 0 && digit_at(at - 1) && digit_at(at + 1))
    return "a decimal point is written '.', as 12.5";
  if (expected == "an attribute's name" && c == ',') return "no comma stands between attributes";
  if (!is_letter(c) || expected.find(',') == std::string_view::npos) return {};
  std::vector<std::string_view> known;  // "measured, tried, published, claimed or hearsay"
  for (std::size_t i = 0; i < expected.size(); ++i) {
    const std::string_view word = word_at(expected, i);
    if (word.size() > 2) known.push_back(word);
    i += word.size();
  }
  const std::string near = nearest_name(word_at(bytes, at), known);
  return near.empty() ? std::string() : "did you mean '" + near + "'?";
}

std::optional<Failure> misspelt_unit(std::string_view bytes, std::size_t at) {
  const auto begin_of = [&](std::string_view token) {
    return static_cast<std::size_t>(token.data() - bytes.data());
  };
  const std::string_view name = word_before(bytes, at), unit = word_before(bytes, begin_of(name));
  const std::string_view number = word_before(bytes, begin_of(unit));
  const auto is_word = [](std::string_view token) { return !token.empty() && is_letter(token.front()); };
  if (!is_word(name) || !is_word(unit) || number.empty() || is_word(number)) return std::nullopt;
  std::vector<std::string_view> known(common_unit_names.begin(), common_unit_names.end());
  known.insert(known.end(), builtin_unit_names.begin(), builtin_unit_names.end());
  const std::string near = nearest_name(unit, known);
  if (near.empty()) return std::nullopt;
  const auto begin = static_cast<std::uint32_t>(begin_of(unit));
  const auto end = begin + static_cast<std::uint32_t>(unit.size());
  return Failure{Code::unknown_unit, begin, end, {std::string(unit)}, "did you mean \"" + near + "\"?", {}};
}

}  // namespace mm

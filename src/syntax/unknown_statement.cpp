// What no statement begins with: where it belongs, or what was meant.
#include <algorithm>
#include <array>
#include <utility>

#include "base/near_miss.hpp"
#include "syntax/begins.hpp"
#include "syntax/recovery.hpp"
#include "syntax/scan.hpp"
#include "syntax/wording.hpp"

namespace mm {

namespace {

/// Words that other languages begin such a statement with.
constexpr std::pair<std::string_view, std::string_view> other_words[] = {
    {"include", "use"}, {"import", "use"}, {"must", "need"}, {"require", "need"}, {"warn", "caution"}};

/// Where a statement belongs that stands outside of any block: there a '}' too many may have closed it.
std::string_view home_of(std::string_view word) {
  constexpr std::array<std::pair<std::string_view, std::string_view>, 3> homes = {{
      {" place fit join rework waive stage ", "a build"},
      {" need should caution also let for side one many ", "an interface or a rule"},
      {" because source remedy settles hazard ", "the braces of a requirement"},
  }};
  if (word.empty()) return {};
  for (const auto& [words, home] : homes)
    if (words.find(" " + std::string(word) + " ") != std::string_view::npos) return home;
  return {};
}

/// The text from `at` to the end of its line, or to the ';' before it, holds another requirement.
bool goes_on_with_need(std::string_view bytes, std::size_t at) {
  for (std::size_t i = at; i < bytes.size() && bytes[i] != '\n' && bytes[i] != ';' && bytes[i] != '#';) {
    const std::string_view word = word_at(bytes, i);
    if (holds(weight_words, word)) return true;
    i = opens_text(bytes, i) ? text_end(bytes, i) : i + std::max<std::size_t>(word.size(), 1);
  }
  return false;
}

/// The '}' before `at` closed the braces of a requirement.
bool behind_details(std::string_view bytes, std::size_t at) {
  constexpr std::size_t farthest = 4096;
  std::size_t depth = 0, i = at;
  while (i > 0 && at - i < farthest) {
    const char c = bytes[--i];
    if (c == '}') ++depth;
    if (c == '{' && (depth == 0 || --depth == 0)) break;
    if (depth == 0 && !is_blank(c) && c != '\n') return false;
  }
  const std::size_t line = i == 0 ? 0 : bytes.rfind('\n', i - 1) + 1;  // 0 where there is none before
  return goes_on_with_need(bytes.substr(0, i), std::max(line, i - std::min(i, farthest)));
}

constexpr std::string_view need_form = "as need NAME: CONDITION when OTHER_CONDITION { because \"...\" }";

/// Where in a requirement the word stands that was read behind or before one.
std::string place_in_need(std::string_view word) {
  if (word == "when")
    return "'when' stands behind the condition and before the braces, " + std::string(need_form);
  if (word == "where")
    return "'where' stands behind for, some and every; a requirement is limited by when, " +
           std::string(need_form);
  constexpr std::array<std::string_view, 5> details = {"because", "source", "remedy", "settles", "hazard"};
  if (word == "need" || word == "should" || word == "caution" || word == "also")
    return "a requirement stands outside of another's braces, " + std::string(need_form);
  if (!holds(details, word)) return {};
  return "'" + std::string(word) + "' stands in the braces of a requirement, as need NAME: CONDITION { " +
         std::string(word) +
         (word == "settles"  ? " at order }"
          : word == "hazard" ? " brakes }"
                             : " \"...\" }");
}

/// The same in a build.
std::string place_in_build(std::string_view bytes, std::size_t at, std::string_view word) {
  constexpr std::size_t farthest = 400;
  const std::size_t line = at == 0 ? 0 : bytes.rfind('\n', at - 1) + 1;  // 0 where there is none before
  const std::size_t from = std::max(line, at - std::min(at, farthest));
  const bool waives = bytes.substr(from, at - from).find("waive ") != std::string_view::npos;
  if (word == "at" || word == "each")
    return "'" + std::string(word) +
           "' stands before the braces, as fit wheel: alloy_15x6 at front_left { ... }";
  constexpr std::array<std::string_view, 4> clauses = {"because", "by", "until", "on"};
  if (holds(clauses, word) && waives)
    return "the order is waive REQUIREMENT on PART because \"...\" by \"...\" until 2026-06-01";
  if (word == "planned" || word == "done" || word == "by")
    return "as rework O1 on half_shaft { flange.circle 108 mm } planned by \"...\"";
  return {};
}

}  // namespace

Failure unknown_statement(const Builder& builder, std::uint32_t at, std::string_view words) {
  const std::uint32_t end = found_end(builder, at);
  if (at < builder.bytes.size() && builder.bytes[at] == '}' && builder.blocks.empty())
    return {Code::stray_brace, at, end, {}, "", {}};
  if (auto failure = upper_case_word(builder.bytes, at)) return *std::move(failure);
  std::vector<std::string_view> known;
  std::string listed;
  for (std::size_t i = 0; i < words.size();) {
    const std::size_t next = std::min(words.find(' ', i), words.size());
    known.push_back(words.substr(i, next - i));
    listed += (listed.empty() ? "" : ", ") + std::string(known.back());
    i = next + 1;
  }
  const std::string_view word = word_at(builder.bytes, at);
  const bool has_conditions = std::find(known.begin(), known.end(), "need") != known.end();
  const bool in_details = words.starts_with("because");
  if (word == "when" && has_conditions &&
      (!behind_details(builder.bytes, at) || goes_on_with_need(builder.bytes, at)))
    return {Code::when_before, at, end, {}, "as need NAME: CONDITION when OTHER_CONDITION", {}};
  std::string near = nearest_name(word, known);
  const bool in_build = std::find(known.begin(), known.end(), "fit") != known.end();
  const bool in_file = std::find(known.begin(), known.end(), "kind") != known.end();
  const std::string place = has_conditions || in_details ? place_in_need(word)
                            : in_build                   ? place_in_build(builder.bytes, at, word)
                                                         : std::string();
  const std::string one_word = name_in_one_word(builder.bytes, at, "");
  if (near.empty() && has_conditions)  // of the condition before it
    near = nearest_name(word, std::array<std::string_view, 2>{"within", "when"});
  for (const auto& [seen, right] : other_words)
    if (seen == word && std::find(known.begin(), known.end(), right) != known.end()) near = right;
  if (!place.empty() || !one_word.empty()) near.clear();
  const std::string_view home = in_file ? home_of(word) : std::string_view{};
  const char c = at < builder.bytes.size() ? builder.bytes[at] : '\0';
  if (!place.empty())
    listed = place;
  else if (!one_word.empty())
    listed = "a name is one word: write " + one_word;
  else if (c == ',' && has_conditions)
    listed = front_word(builder.bytes.substr(skip_space(builder, at + 1))) == "when"
                 ? "leave the ',' out, " + std::string(need_form)
                 : "conditions are joined by and, or";
  else if (c == '\'')
    listed = "a text stands in double quotes, as \"first hose\"";
  else if (in_build && c == ',' &&
           begins_here(builder.bytes, skip_space(builder, at + 1), Begins::build_statement))
    listed = "leave the ',' out";
  else if (in_build && (c == ',' || word == "or"))
    listed = "one of two parts is written one of a, b";
  else if (word == "part" || word == "kind" || word == "rule" || word == "interface")
    listed = "parts, kinds, interfaces and rules stand outside of any block";
  else if (c == ',' || word == "and")
    listed = "several names are separated by commas";
  else if (!home.empty())
    listed =
        "'" + std::string(word) + "' stands inside " + std::string(home) + "; is there a '}' too many above?";
  else
    listed = "possible here: " + listed;
  Failure failure{Code::unknown_statement,
                  at,
                  end,
                  {found_at(builder, at)},
                  near.empty() ? listed : "did you mean '" + near + "'?",
                  {}};
  if (near.empty()) failure.home = home;
  return failure;
}

}  // namespace mm

// The wording of failures: what was expected, after what, and what stands there instead.
#include <algorithm>
#include <utility>

#include "syntax/recovery.hpp"
#include "syntax/scan.hpp"
#include "syntax/wording.hpp"

namespace mm {

namespace {

/// The token that ends at `end`, for "after '...'"; short.
std::string token_before(const Builder& builder, std::uint32_t end) {
  const std::string_view bytes = builder.bytes;
  for (const std::uint32_t at = end;
       end > 0 && at - end < 200 && (is_blank(bytes[end - 1]) || bytes[end - 1] == '\n');)
    --end;
  if (end == 0) return {};
  std::size_t begin = end - 1;
  const char last = bytes[begin];
  if (is_in_word(last)) {
    while (begin > 0 && end - begin < 60 && (is_in_word(bytes[begin - 1]) || bytes[begin - 1] == '.'))
      --begin;
  } else if (last == '"') {
    while (begin > 0 && end - begin < 40 && bytes[begin - 1] != '"' && bytes[begin - 1] != '\n') --begin;
    if (begin == 0 || bytes[begin - 1] != '"') return "the text";
    --begin;
  } else {
    while (begin > 0 && end - begin < 2 &&
           std::string_view("+-<>=!.\xC2").find(bytes[begin - 1]) != std::string_view::npos)
      --begin;
  }
  return quoted(bytes.substr(begin, end - begin));
}

/// After an attribute alone on its line the next line's attribute was read as its value.
Failure missing_value(const Builder& builder) {
  const std::uint32_t at = builder.doubtful;
  return {Code::expected,
          at,
          at,
          {"a value", " after " + token_before(builder, at), "the end of the line"},
          "as 108 mm +- 0.1 mm, or ? for not known yet",
          {}};
}

/// Where a message about something missing at `at` points: at the end of the line before when `at` is on a
/// later one.
std::uint32_t missing_at(const Builder& builder, std::uint32_t at) {
  if (at != builder.space_end || builder.space_begin == builder.space_end) return at;
  const auto space = builder.bytes.substr(builder.space_begin, at - builder.space_begin);
  return at == builder.bytes.size() || space.find('\n') != std::string_view::npos ? builder.space_begin : at;
}

/// A name that stands for what is declared elsewhere: that it is missing leaves nothing without its name.
bool is_of_another(std::string_view expected) {
  constexpr std::array<std::string_view, 7> others = {
      "a part's name",   "a kind's name",  "an interface's name", "a requirement's name",
      "a column's name", "a table's name", "a group's name"};
  return std::any_of(others.begin(), others.end(),
                     [&](std::string_view other) { return expected.ends_with(other); });
}

/// A condition that limits a requirement, before its own or before its name.
Failure early_when(const Builder& builder, std::uint32_t at) {
  return {
      Code::when_before, at, found_end(builder, at), {}, "as need NAME: CONDITION when OTHER_CONDITION", {}};
}

/// Of "formula f(x: length: length = x": the type has no ')' behind it.
std::optional<Failure> unclosed_parameters(const Builder& builder, std::uint32_t at, Wanted expected) {
  if (!expected.hint.starts_with("as formula") || expected.what != "a type" || at >= builder.bytes.size())
    return std::nullopt;
  const std::size_t end = at + word_at(builder.bytes, at).size();
  const auto colon = static_cast<std::uint32_t>(builder.bytes.find_first_not_of(" \t", end));
  if (end == at || colon >= builder.bytes.size() || builder.bytes[colon] != ':') return std::nullopt;
  return Failure{Code::expected,
                 colon,
                 colon + 1,
                 {"')' or ','", " after " + token_before(builder, static_cast<std::uint32_t>(end)), "':'"},
                 std::string(expected.hint),
                 {}};
}

}  // namespace

Failure expected_failure(const Builder& builder, std::uint32_t at, Wanted expected) {
  if (builder.doubtful_end != 0 && builder.space_begin == builder.doubtful_end && builder.space_end == at)
    return missing_value(builder);
  const std::string_view bytes = builder.bytes;
  const bool cell = expected.what.starts_with("a cell") && at < bytes.size() && bytes[at] != '}';
  const std::uint32_t shown = cell ? at : missing_at(builder, at);
  if (auto failure = unclosed_parameters(builder, at, expected)) return *std::move(failure);
  if (shown == at)
    if (auto failure = upper_case_word(bytes, at)) return *std::move(failure);
  if (expected.what == "an attribute's name" && shown == at && at < bytes.size() && !is_letter(bytes[at]))
    if (auto unit = misspelt_unit(bytes, at)) return *std::move(unit);
  const std::string_view word = word_at(bytes, at);
  if (word == "when" && (expected.what == "the requirement's name" || expected.what == "':' and a condition"))
    return early_when(builder, at);
  const bool spaced = at == builder.space_end && builder.space_begin < at;
  const std::string before = token_before(builder, spaced ? builder.space_begin : at);
  const std::string after = before.empty() ? "" : " after " + before;
  const bool name = expected.what.ends_with("name"),
             no_name = name && !is_of_another(expected.what) && !(at < bytes.size() && bytes[at] == ',');
  if (holds(reserved_words, word) && name)
    return {Code::reserved_word,
            at,
            found_end(builder, at),
            {std::string(expected.what), after, std::string(word)},
            hint_for_reserved(bytes, at, expected.what),
            {}};
  const std::uint32_t end = found_end(builder, shown);
  std::string hint(expected.hint);
  if (const std::string nearer = nearer_hint(bytes, shown, expected); !nearer.empty()) hint = nearer;
  return {Code::expected,  shown, end,   {std::string(expected.what), after, found_at(builder, shown)},
          std::move(hint), {},    false, no_name};
}

bool begins_path(std::string_view bytes, std::size_t at) {
  const std::size_t line = at == 0 ? 0 : bytes.rfind('\n', at - 1) + 1;  // 0 where there is none before
  const std::size_t quote = bytes.rfind('"', at);
  return quote != std::string_view::npos && quote >= line && word_before(bytes, quote) == "use";
}

Failure close_failure(Builder& builder, std::uint32_t at) {
  std::vector<Label> labels;
  if (!builder.blocks.empty()) {
    const std::uint32_t open = builder.blocks.back();
    labels.push_back({{builder.file, open, open + 1}, "the block was opened here"});
  }
  const bool at_end = at >= builder.bytes.size();
  const std::uint32_t shown = at_end ? missing_at(builder, at) : at;
  return {Code::unclosed_block, shown, at_end ? shown : found_end(builder, at), {found_at(builder, at)}, "",
          std::move(labels),    at_end};
}

}  // namespace mm

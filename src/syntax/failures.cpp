// The wording of failures: what was expected, after what, and what stands there instead.
#include <algorithm>
#include <utility>

#include "base/near_miss.hpp"
#include "base/unit_names.hpp"
#include "syntax/recovery.hpp"
#include "syntax/scan.hpp"

namespace mm {

namespace {

/// Statements of an interface, which begin as an attribute does.
constexpr std::string_view statement_words[] = {"need", "should", "caution", "also",
                                                "let",  "one",    "many",    "side"};

/// Words that other languages begin such a statement with.
constexpr std::pair<std::string_view, std::string_view> other_words[] = {
    {"include", "use"}, {"import", "use"}, {"must", "need"}, {"require", "need"}, {"warn", "caution"}};

std::string quoted(std::string_view token) {
  std::string result = "'";
  result.append(token).append("'");
  return result;
}

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

/// A word, or a number with its point.
std::string_view token_at(std::string_view bytes, std::size_t at) {
  std::string_view word = word_at(bytes, at);
  const std::size_t end = at + word.size();
  if (!is_letter(bytes[at]) && end + 1 < bytes.size() && bytes[end] == '.' && is_in_word(bytes[end + 1]))
    word = bytes.substr(at, word.size() + 1 + word_at(bytes, end + 1).size());
  return word;
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
  std::size_t length = 1;
  while (at + length < bytes.size() && (static_cast<unsigned char>(bytes[at + length]) & 0xC0U) == 0x80U)
    ++length;
  return quoted(bytes.substr(at, length));
}

std::uint32_t found_end(const Builder& builder, std::uint32_t at) {
  const std::string_view bytes = builder.bytes;
  if (at >= bytes.size() || bytes[at] == '\n' || bytes[at] == '\r') return at;
  if (bytes[at] == '"') return static_cast<std::uint32_t>(text_end(bytes, at));
  if (is_in_word(bytes[at])) return at + static_cast<std::uint32_t>(token_at(bytes, at).size());
  std::uint32_t end = at + 1;
  while (end < bytes.size() && (static_cast<unsigned char>(bytes[end]) & 0xC0U) == 0x80U) ++end;
  return end;
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

/// The word or number that ends before the blanks before `end`, where it is short.
std::string_view word_before(std::string_view bytes, std::size_t end) {
  constexpr std::size_t longest = 40;
  while (end > 0 && is_blank(bytes[end - 1])) --end;
  std::size_t begin = end;
  while (begin > 0 && end - begin < longest && (is_in_word(bytes[begin - 1]) || bytes[begin - 1] == '.'))
    --begin;
  return bytes.substr(begin, end - begin);
}

/// Of "form flat or round", in a part or as a type.
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

/// A name that stands for what is declared elsewhere: that it is missing leaves nothing without its name.
bool is_of_another(std::string_view expected) {
  constexpr std::array<std::string_view, 7> others = {
      "a part's name",   "a kind's name",  "an interface's name", "a requirement's name",
      "a column's name", "a table's name", "a group's name"};
  return std::any_of(others.begin(), others.end(),
                     [&](std::string_view other) { return expected.ends_with(other); });
}

/// Of "part w is a wheel": the article, which was taken for the kind.
std::string_view article_before(std::string_view bytes, std::size_t at) {
  const std::string_view article = word_before(bytes, at);
  if (article != "a" && article != "an" && article != "the") return {};
  return word_before(bytes, static_cast<std::size_t>(article.data() - bytes.data())) == "is"
             ? article
             : std::string_view{};
}

/// What would be right, where what stands there tells it: "offset = 35 mm", "35 mm, mass 3 kg", a misspelt
/// word.
std::string nearer_hint(std::string_view bytes, std::uint32_t at, std::string_view expected) {
  if (at >= bytes.size()) return {};
  const char c = bytes[at];
  if (expected == "a value or a block" && (c == '=' || c == ':'))
    return "leave the '" + std::string(1, c) + "' out: a value stands behind its name, as circle 108 mm";
  const auto digit_at = [&](std::size_t i) { return i < bytes.size() && bytes[i] >= '0' && bytes[i] <= '9'; };
  if (expected == "'{'" && is_letter(c))
    if (const std::string_view article = article_before(bytes, at); !article.empty())
      return "leave \"" + std::string(article) + "\" out: the kind's name stands behind 'is'";
  if (expected == "':'" && word_before(bytes, at) == "each") return "leave \"each\" out: for w: wheel";
  if (expected == "':' and a type" && word_before(bytes, at) != "optional" &&
      !nearest_name(word_before(bytes, at), std::array<std::string_view, 1>{"optional"}).empty())
    return "did you mean 'optional'?";
  if (expected == "':' and a type" && holds(statement_words, word_before(bytes, at)))
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

/// Of "bore 60 mmm  lugs 5" at the 5: the word behind the number, which no unit is called, so that it was
/// taken for an attribute and the next one's name for its value. None where it is no near miss of a unit.
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

}  // namespace

Failure expected_failure(const Builder& builder, std::uint32_t at, Wanted expected) {
  if (builder.doubtful_end != 0 && builder.space_begin == builder.doubtful_end && builder.space_end == at)
    return missing_value(builder);
  const std::string_view bytes = builder.bytes;
  const std::uint32_t shown = missing_at(builder, at);
  if (expected.what == "an attribute's name" && shown == at && at < bytes.size() && !is_letter(bytes[at]))
    if (auto unit = misspelt_unit(bytes, at)) return *std::move(unit);
  const bool spaced = at == builder.space_end && builder.space_begin < at;
  const std::string before = token_before(builder, spaced ? builder.space_begin : at);
  const std::string after = before.empty() ? "" : " after " + before;
  const std::string_view word = word_at(bytes, at);
  const bool name = expected.what.ends_with("name"), no_name = name && !is_of_another(expected.what);
  if (holds(reserved_words, word) && name)
    return {Code::reserved_word,
            at,
            found_end(builder, at),
            {std::string(expected.what), after, std::string(word)},
            hint_for_reserved(bytes, at, expected.what),
            {}};
  const std::uint32_t end = found_end(builder, shown);
  std::string hint(expected.hint);
  if (const std::string nearer = nearer_hint(bytes, shown, expected.what); !nearer.empty()) hint = nearer;
  return {Code::expected,  shown, end,   {std::string(expected.what), after, found_at(builder, shown)},
          std::move(hint), {},    false, no_name};
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

Failure unknown_statement(const Builder& builder, std::uint32_t at, std::string_view words) {
  const std::uint32_t end = found_end(builder, at);
  if (at < builder.bytes.size() && builder.bytes[at] == '}' && builder.blocks.empty())
    return {Code::stray_brace, at, end, {}, "", {}};
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
  std::string near = nearest_name(word, known);
  if (near.empty() && has_conditions)  // of the condition before it
    near = nearest_name(word, std::array<std::string_view, 2>{"within", "when"});
  for (const auto& [seen, right] : other_words)
    if (seen == word && std::find(known.begin(), known.end(), right) != known.end()) near = right;
  const bool in_build = std::find(known.begin(), known.end(), "fit") != known.end();
  const bool in_file = std::find(known.begin(), known.end(), "kind") != known.end();
  const std::string_view home = in_file ? home_of(word) : std::string_view{};
  const char c = at < builder.bytes.size() ? builder.bytes[at] : '\0';
  if (in_build && (c == ',' || word == "or"))
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

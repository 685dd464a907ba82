#include "syntax/recovery.hpp"

#include <algorithm>
#include <array>

#include "base/near_miss.hpp"

namespace mm {

namespace {

constexpr std::string_view declaration_words[] = {"build", "choice",    "currency", "designation", "formula",
                                                  "group", "interface", "kind",     "part",        "rule",
                                                  "table", "trial",     "unit",     "use"};
constexpr std::string_view reserved_words[] = {"and",  "every", "for",  "has",   "if",      "in",  "mate",
                                               "no",   "not",   "of",   "or",    "part_of", "per", "some",
                                               "then", "else",  "when", "where", "within",  "yes"};

template <typename Words>
bool holds(const Words& words, std::string_view word) {
  return std::find(std::begin(words), std::end(words), word) != std::end(words);
}

bool blank(char c) { return c == ' ' || c == '\t' || c == '\r'; }
bool letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }
bool part_of_word(char c) { return letter(c) || (c >= '0' && c <= '9') || c == '_'; }

std::string_view word_at(std::string_view bytes, std::size_t at) {
  std::size_t end = at;
  while (end < bytes.size() && part_of_word(bytes[end])) ++end;
  return bytes.substr(at, end - at);
}

std::size_t text_end(std::string_view bytes,
                     std::size_t at) {  // bytes[at] == '"'; past its end, or at the line's end
  for (++at; at < bytes.size() && bytes[at] != '\n'; ++at) {
    if (bytes[at] == '\\' && at + 1 < bytes.size() && bytes[at + 1] != '\n') {
      ++at;
    } else if (bytes[at] == '"') {
      return at + 1;
    }
  }
  return at;
}

std::size_t line_end(std::string_view bytes, std::size_t at) {
  return std::min(bytes.find('\n', at), bytes.size());
}

struct Line {
  std::size_t begin = 0;
  std::size_t first = 0;  // its first byte that is not blank
  std::size_t indent() const { return first - begin; }
};

constexpr std::size_t longest_look_back = 4096;  // keeps many errors on one huge line cheap

Line line_of(std::string_view bytes, std::size_t at) {
  Line line;
  line.begin = at;
  while (line.begin > 0 && at - line.begin < longest_look_back && bytes[line.begin - 1] != '\n') --line.begin;
  line.first = line.begin;
  while (line.first < bytes.size() && blank(bytes[line.first])) ++line.first;
  return line;
}

/// Whether the line at `next` goes on with the wrong statement: further in than it, or not the start of any.
bool goes_on(std::string_view bytes, const Line& next, const Line& statement, bool statement_leads) {
  const char c = bytes[next.first];
  if (c == '}' || c == '#') return false;
  if (statement_leads && next.indent() > statement.indent()) return true;
  if (!letter(c)) return true;
  return holds(reserved_words, word_at(bytes, next.first)) && word_at(bytes, next.first) != "for";
}

/// The token that ends at `end`, for "after '...'"; short.
std::string token_before(const Builder& builder, std::uint32_t end) {
  const std::string_view bytes = builder.bytes;
  if (end == 0) return {};
  std::size_t begin = end - 1;
  const char last = bytes[begin];
  if (part_of_word(last)) {
    while (begin > 0 && end - begin < 60 && (part_of_word(bytes[begin - 1]) || bytes[begin - 1] == '.'))
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
  return "'" + std::string(bytes.substr(begin, end - begin)) + "'";
}

/// A word, or a number with its point.
std::string_view token_at(std::string_view bytes, std::size_t at) {
  std::string_view word = word_at(bytes, at);
  const std::size_t end = at + word.size();
  if (!letter(bytes[at]) && end + 1 < bytes.size() && bytes[end] == '.' && part_of_word(bytes[end + 1]))
    word = bytes.substr(at, word.size() + 1 + word_at(bytes, end + 1).size());
  return word;
}

std::string found_at(const Builder& builder, std::uint32_t at) {
  const std::string_view bytes = builder.bytes;
  if (at >= bytes.size()) return "the end of the file";
  const std::size_t solid = bytes.find_first_not_of(" \t", at);
  const char c = solid == std::string_view::npos ? '\n' : bytes[solid] == '\n' ? '\n' : bytes[at];
  if (c == '\n' || c == '\r' || c == '#') return "the end of the line";
  if (c == '"') return "a text";
  if (part_of_word(c)) return "'" + std::string(token_at(bytes, at).substr(0, 60)) + "'";
  std::size_t length = 1;
  while (at + length < bytes.size() && (static_cast<unsigned char>(bytes[at + length]) & 0xC0U) == 0x80U)
    ++length;
  return "'" + std::string(bytes.substr(at, length)) + "'";
}

std::uint32_t found_end(const Builder& builder, std::uint32_t at) {
  const std::string_view bytes = builder.bytes;
  if (at >= bytes.size() || bytes[at] == '\n' || bytes[at] == '\r') return at;
  if (bytes[at] == '"') return static_cast<std::uint32_t>(text_end(bytes, at));
  if (part_of_word(bytes[at])) return at + static_cast<std::uint32_t>(token_at(bytes, at).size());
  std::uint32_t end = at + 1;
  while (end < bytes.size() && (static_cast<unsigned char>(bytes[end]) & 0xC0U) == 0x80U) ++end;
  return end;
}

/// After an attribute alone on its line the next line's attribute was read as its value.
Failure missing_value(const Builder& builder) {
  const std::uint32_t at = builder.doubtful;
  return {Code::expected, at, at, {"a value", " after " + token_before(builder, at), "the end of the line"},
          "as 108 mm +- 0.1 mm, or ? for not known yet", {}};
}

/// Where a message about something missing at `at` points: at the end of the line before when `at` is on a
/// later one.
std::uint32_t missing_at(const Builder& builder, std::uint32_t at) {
  if (at != builder.space_end || builder.space_begin == builder.space_end) return at;
  const auto space = builder.bytes.substr(builder.space_begin, at - builder.space_begin);
  return at == builder.bytes.size() || space.find('\n') != std::string_view::npos ? builder.space_begin : at;
}

}  // namespace

void report(Builder& builder, Failure failure) {
  if (failure.at_end && std::exchange(builder.end_reported, true)) return;
  const Span at{builder.file, failure.begin, std::max(failure.begin, failure.end)};
  builder.messages.add(failure.code, at, std::move(failure.arguments), std::move(failure.hint)).labels =
      std::move(failure.labels);
  if (++builder.errors < max_errors_in_file) return;
  builder.messages.add(Code::too_many_errors, at, {std::to_string(max_errors_in_file)});
  throw GaveUp{};
}

std::uint32_t skip_space(const Builder& builder, std::uint32_t at) {
  const std::string_view bytes = builder.bytes;
  std::size_t i = at;
  while (i < bytes.size() && (blank(bytes[i]) || bytes[i] == '\n' || bytes[i] == '#')) {
    i = bytes[i] == '#' ? line_end(bytes, i) : i + 1;
  }
  return static_cast<std::uint32_t>(i);
}

std::uint32_t resume_after(const Builder& builder, std::uint32_t begin, std::uint32_t failed, bool in_block) {
  const std::string_view bytes = builder.bytes;
  const Line statement = line_of(bytes, begin);
  const bool leads = statement.first == begin;
  std::size_t i = begin;
  while (i < failed) {  // a failure inside a text resumes after it
    i = bytes[i] == '"' ? text_end(bytes, i) : bytes[i] == '#' ? line_end(bytes, i) : i + 1;
  }
  std::size_t depth = 0;
  while (i < bytes.size()) {
    const char c = bytes[i];
    if (c == '"') {
      i = text_end(bytes, i);
    } else if (c == '#') {
      i = line_end(bytes, i);
    } else if (c == '{') {
      ++depth;
      ++i;
    } else if (c == '}') {
      if (depth == 0 && in_block) {
        const Line line = line_of(bytes, i);
        const bool own =
            leads && line.begin != statement.begin && line.first == i && line.indent() == statement.indent();
        if (!own) return static_cast<std::uint32_t>(i);
      }
      if (depth > 0) --depth;
      ++i;
    } else if (c == ';' && depth == 0) {
      return skip_space(builder, static_cast<std::uint32_t>(i + 1));
    } else if (c == '\n' && depth == 0) {
      const std::uint32_t next = skip_space(builder, static_cast<std::uint32_t>(i));
      if (next >= bytes.size()) return next;
      const Line line = line_of(bytes, next);
      if (bytes[next] != '}' && !goes_on(bytes, line, statement, leads)) return next;
      i = next;
    } else {
      ++i;
    }
  }
  return static_cast<std::uint32_t>(bytes.size());
}

std::uint32_t indent_at(const Builder& builder, std::uint32_t at) {
  return static_cast<std::uint32_t>(line_of(builder.bytes, at).indent());
}

std::optional<std::uint32_t> brace_on_line(const Builder& builder, std::uint32_t failed) {
  const std::string_view bytes = builder.bytes;
  for (std::size_t i = failed; i < bytes.size() && bytes[i] != '\n' && bytes[i] != '#' && bytes[i] != '}';) {
    if (bytes[i] == '{') return static_cast<std::uint32_t>(i);
    i = bytes[i] == '"' ? text_end(bytes, i) : i + 1;
  }
  return std::nullopt;
}

std::optional<BlockLost> lost_block(Builder& builder, std::uint32_t failed) {
  if (builder.blocks.empty() || failed >= builder.bytes.size()) return std::nullopt;
  const Line line = line_of(builder.bytes, failed);
  const std::string_view word = word_at(builder.bytes, line.first);
  const OpenBlock& open = builder.blocks.back();
  if (!holds(declaration_words, word) || line.indent() > open.indent || line.begin <= open.at)
    return std::nullopt;
  const auto at = static_cast<std::uint32_t>(line.first);
  report(builder, close_failure(builder, at));
  return BlockLost{at, static_cast<std::uint32_t>(line.indent())};
}

Failure expected_failure(const Builder& builder, std::uint32_t at, Expectation expected) {
  if (builder.doubtful_end != 0 && builder.space_begin == builder.doubtful_end && builder.space_end == at)
    return missing_value(builder);
  const std::string_view bytes = builder.bytes;
  const std::uint32_t shown = missing_at(builder, at);
  const bool spaced = at == builder.space_end && builder.space_begin < at;
  const std::string before = token_before(builder, spaced ? builder.space_begin : at);
  const std::string after = before.empty() ? "" : " after " + before;
  const std::string_view word = word_at(bytes, shown);
  if (holds(reserved_words, word) && expected.what.ends_with("name"))
    return {Code::reserved_word,       shown,
            found_end(builder, shown), {std::string(expected.what), after, std::string(word)},
            "choose another name",     {}};
  const std::uint32_t end = found_end(builder, shown);
  return {Code::expected,
          shown,
          end,
          {std::string(expected.what), after, found_at(builder, shown)},
          std::string(expected.hint),
          {}};
}

Failure close_failure(Builder& builder, std::uint32_t at) {
  std::vector<Label> labels;
  if (!builder.blocks.empty()) {
    const std::uint32_t open = builder.blocks.back().at;
    labels.push_back({{builder.file, open, open + 1}, "the block was opened here"});
  }
  const bool at_end = at >= builder.bytes.size();
  const std::uint32_t shown = at_end ? missing_at(builder, at) : at;
  return {Code::unclosed_block, shown, at_end ? shown : found_end(builder, at), {found_at(builder, at)}, "", std::move(labels), at_end};
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
  const std::string near = nearest_name(word_at(builder.bytes, at), known);
  return {Code::unknown_statement,
          at,
          end,
          {found_at(builder, at)},
          near.empty() ? "possible here: " + listed : "did you mean '" + near + "'?",
          {}};
}

}  // namespace mm

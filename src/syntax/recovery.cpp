#include "syntax/recovery.hpp"

#include <algorithm>

#include "base/near_miss.hpp"
#include "syntax/begins.hpp"
#include "syntax/scan.hpp"

namespace mm {

namespace {

constexpr std::string_view declaration_words[] = {"build", "choice",    "currency", "designation", "formula",
                                                  "group", "interface", "kind",     "part",        "rule",
                                                  "table", "trial",     "unit",     "use"};

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
  while (line.first < bytes.size() && is_blank(bytes[line.first])) ++line.first;
  return line;
}

/// Whether the line at `next` goes on with the wrong statement: further in than it, or not the start of any.
bool goes_on(std::string_view bytes, const Line& next, const Line& statement, bool statement_leads) {
  const char c = bytes[next.first];
  if (c == '}' || c == '#') return false;
  if (statement_leads && next.indent() > statement.indent()) return true;
  if (!is_letter(c)) return true;
  return holds(reserved_words, word_at(bytes, next.first)) && word_at(bytes, next.first) != "for";
}

}  // namespace

bool report(Builder& builder, Failure failure) {
  if (failure.at_end && std::exchange(builder.end_reported, true)) return false;
  if (!failure.home.empty() && std::exchange(builder.home_reported, failure.home) == failure.home)
    return false;
  const auto size = static_cast<std::uint32_t>(builder.bytes.size());
  const std::uint32_t begin = std::min(failure.begin, size);
  const Span at{builder.file, begin, std::clamp(failure.end, begin, size)};
  builder.messages.add(failure.code, at, std::move(failure.arguments), std::move(failure.hint)).labels =
      std::move(failure.labels);
  if (++builder.errors < max_errors_in_file) return true;
  builder.messages.add(Code::too_many_errors, at, {std::to_string(max_errors_in_file)});
  throw GaveUp{};
}

void leave_unread(Builder& builder, std::uint32_t begin, std::uint32_t end, bool read_on) {
  if (builder.bytes[begin] == ',' && begin < end) begin = std::min(end, skip_space(builder, begin + 1));
  const std::string_view text = builder.bytes.substr(begin, end - begin);
  const std::string_view word = word_at(text, 0);
  const bool declares = holds(declaration_words, word);
  const std::size_t name = declares ? text.find_first_not_of(" \t\n", word.size()) : 0;
  const bool named = name < text.size() && (is_letter(text[name]) || text[name] == '"');
  const bool plain = declares || !builder.blocks.empty() || text.find('{') != std::string_view::npos ||
                     (read_on && text.find('"') == std::string_view::npos);
  std::uint32_t solid = skip_space(builder, begin);
  while (solid < end && (builder.bytes[solid] == '}' || builder.bytes[solid] == ';'))
    solid = skip_space(builder, solid + 1);
  const bool nothing = solid >= end;
  if (nothing || (named && plain && word != "use"))
    builder.messages.leaves_unread({builder.file, begin, end});
}

void note_unreadable(Builder& builder, std::uint32_t at) {
  constexpr unsigned enough = 8;
  constexpr std::string_view other_words[] = {"place",  "fit",  "join",   "rework",  "waive", "stage",
                                              "expect", "need", "should", "caution", "side"};
  const std::string_view word = word_at(builder.bytes, at);
  const std::string_view line = builder.bytes.substr(at, line_end(builder.bytes, at) - at);
  const bool misspelt =
      line.find('{') != std::string_view::npos && !nearest_name(word, declaration_words).empty();
  const bool known = misspelt || holds(declaration_words, word) || holds(other_words, word);
  if (builder.bytes[at] == '}') return;
  if (known || !builder.out.declarations.empty()) builder.strange = enough;  // it is one
  if (builder.strange >= enough || ++builder.strange < enough) return;
  builder.messages.back_to(builder.at_first);
  const std::uint32_t first = skip_space(builder, 0);
  builder.messages.add(Code::not_this_language, {builder.file, first, first}, {std::to_string(enough)},
                       "a file holds declarations, as part a is wheel { ... } or build b { ... }");
  throw GaveUp{};
}

std::uint32_t skip_space(const Builder& builder, std::uint32_t at) {
  const std::string_view bytes = builder.bytes;
  std::size_t i = at;
  while (i < bytes.size() && (is_blank(bytes[i]) || bytes[i] == '\n' || bytes[i] == '#')) {
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
    i = opens_text(bytes, i) ? text_end(bytes, i) : bytes[i] == '#' ? line_end(bytes, i) : i + 1;
  }
  std::size_t depth = 0;
  while (i < bytes.size()) {
    const char c = bytes[i];
    if (opens_text(bytes, i)) {
      i = text_end(bytes, i);
    } else if (c == '#') {
      i = line_end(bytes, i);
    } else if (c == '{') {
      ++depth;
      ++i;
    } else if (c == '}') {
      if (depth == 0 && in_block) {
        const Line line = line_of(bytes, i);
        // where the block is not indented, its own brace stands like that too
        const bool indented =
            !builder.blocks.empty() && indent_at(builder, builder.blocks.back()) < statement.indent();
        const bool own = leads && indented && line.begin != statement.begin && line.first == i &&
                         line.indent() == statement.indent();
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

bool looks_opened(const Builder& builder, std::uint32_t at) {
  constexpr std::size_t longest_look_ahead = 65'536;
  const std::string_view bytes = builder.bytes.substr(0, at + longest_look_ahead);
  const std::size_t word_end = at + word_at(bytes, at).size();
  if (at >= bytes.size() || !is_letter(bytes[at]) || word_end >= bytes.size() ||
      std::string_view(" \t:.{").find(bytes[word_end]) == std::string_view::npos)
    return false;
  const std::string_view rest = bytes.substr(at, line_end(bytes, at) - at);
  if (std::count(rest.begin(), rest.end(), '"') % 2 != 0) return false;  // the end of a text
  const std::size_t indent = line_of(bytes, at).indent();
  std::size_t depth = 0;
  for (std::size_t i = word_end; i < bytes.size();) {
    const char c = bytes[i];
    if (c == '}' && depth-- == 0) return true;
    if (c == '{') ++depth;
    if (c == '\n') {
      const std::size_t next = skip_space(builder, static_cast<std::uint32_t>(i));
      if (next >= bytes.size()) return false;
      const Line line = line_of(bytes, next);
      if (line.indent() <= indent && holds(declaration_words, word_at(bytes, next))) return false;
      i = next;
      continue;
    }
    i = opens_text(bytes, i) ? text_end(bytes, i) : c == '#' ? line_end(bytes, i) : i + 1;
  }
  return false;
}

void check_when(Builder& builder, Span when) {
  const std::string_view bytes = builder.bytes;
  std::size_t next = when.end;
  while (next < bytes.size() && is_blank(bytes[next])) ++next;
  if (line_of(bytes, when.begin).first != when.begin || !holds(weight_words, word_at(bytes, next))) return;
  report(builder, {Code::when_before,
                   when.begin,
                   when.begin + 4,
                   {},
                   "as need NAME: CONDITION when OTHER_CONDITION",
                   {}});
  builder.messages.hides_nothing();
}

std::optional<std::uint32_t> brace_on_line(const Builder& builder, std::uint32_t failed) {
  const std::string_view bytes = builder.bytes;
  for (std::size_t i = failed; i < bytes.size() && bytes[i] != '\n' && bytes[i] != '#' && bytes[i] != '}';) {
    if (bytes[i] == '{') return static_cast<std::uint32_t>(i);
    if (is_letter(bytes[i]) && !is_in_word(bytes[i - 1]) && begins_here(bytes, i, Begins::declaration))
      return std::nullopt;  // it is that one's
    i = opens_text(bytes, i) ? text_end(bytes, i) : i + 1;
  }
  return std::nullopt;
}

std::optional<BlockLost> lost_block(Builder& builder, std::uint32_t failed) {
  if (builder.blocks.empty() || failed >= builder.bytes.size()) return std::nullopt;
  const Line line = line_of(builder.bytes, failed);
  const std::string_view word = word_at(builder.bytes, line.first);
  const std::uint32_t open = builder.blocks.back();
  if (!holds(declaration_words, word) || line.indent() > indent_at(builder, open) || line.begin <= open)
    return std::nullopt;
  const auto at = static_cast<std::uint32_t>(line.first);
  report(builder, close_failure(builder, at));
  return BlockLost{at, static_cast<std::uint32_t>(line.indent())};
}

}  // namespace mm

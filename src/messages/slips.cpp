// Which messages a slip accounts for: those at it, those of the number or condition right before it, and what
// the reader stumbled over behind it in the same statement.
#include "messages/slips.hpp"

#include <algorithm>
#include <array>
#include <map>

namespace mm {

namespace {

constexpr std::size_t longest_line = 4096;

constexpr std::array before_codes{Code::unit_missing, Code::wrong_dimension, Code::count_not_whole,
                                  Code::unknown_unit, Code::not_a_truth,     Code::mixed_dimensions,
                                  Code::wrong_value,  Code::exponent_unknown};
constexpr std::array after_codes{Code::expected,      Code::unknown_statement, Code::attribute_unknown,
                                 Code::unclosed_text, Code::unknown_escape,    Code::unit_missing,
                                 Code::reserved_word, Code::unknown_name,      Code::wrong_value,
                                 Code::unknown_unit};

template <typename List>
bool is_one_of(const List& list, Code code) {
  return std::find(list.begin(), list.end(), code) != list.end();
}

struct Line {
  Span at;  // of the whole line
  std::string_view text;
  std::vector<std::size_t> messages;  // that begin on it
};

bool only_blanks(std::string_view text) { return text.find_first_not_of(" \t") == std::string_view::npos; }

bool accounts_for(const Line& line, const Slip& slip, std::size_t end, const Message& message) {
  const std::size_t begin = message.span.begin - line.at.begin;
  const std::size_t message_end = std::min<std::size_t>(message.span.end - line.at.begin, line.text.size());
  if (begin >= slip.begin && begin <= slip.end) return true;
  if (begin < slip.begin) {
    const bool reaches = message_end > slip.begin;
    const bool touches =
        message_end <= slip.begin && only_blanks(line.text.substr(message_end, slip.begin - message_end));
    return (reaches || touches) && is_one_of(before_codes, message.code);
  }
  return begin <= end && is_one_of(after_codes, message.code);
}

class Explainer {
 public:
  Explainer(const Sources& sources, Messages& messages) : sources_(sources), messages_(messages) {}

  void run() {
    for (const Line& line : lines()) explain(line);
    messages_.drop([&](std::size_t i) { return i < gone_.size() && gone_[i]; });
    for (Message& message : made_) {
      std::string hint = std::move(message.hint);
      messages_.add(message.code, message.span, std::move(message.arguments), std::move(hint));
    }
  }

 private:
  std::vector<Line> lines() {
    std::map<std::pair<std::uint32_t, std::uint32_t>, Line> found;
    const auto& all = messages_.all();
    gone_.assign(all.size(), false);
    for (std::size_t i = 0; i < all.size(); ++i) {
      const Span span = all[i].span;
      if (!span.file || weight_of(all[i].code) != MessageWeight::error) continue;
      const std::string_view text = sources_.line_of(span);
      const auto begin = static_cast<std::uint32_t>(text.data() - sources_[span.file].bytes.data());
      if (text.size() > longest_line || span.begin < begin) continue;
      Line& line = found[{span.file.index, begin}];
      line.at = {span.file, begin, begin + static_cast<std::uint32_t>(text.size())};
      line.text = text;
      line.messages.push_back(i);
    }
    std::vector<Line> out;
    for (auto& [key, line] : found) out.push_back(std::move(line));
    return out;
  }

  /// A row with a cell that cannot be read is short for that alone, and one before any column may be a
  /// column.
  void drop_short_row(const Line& line) {
    const auto has = [&](Code code) {
      return std::find_if(line.messages.begin(), line.messages.end(),
                          [&](std::size_t i) { return messages_.all()[i].code == code; });
    };
    if (const auto row = has(Code::row_length);
        row != line.messages.end() && has(Code::expected) != line.messages.end())
      gone_[*row] = true;
    const auto cell = has(Code::no_columns), bad = has(Code::expected);
    if (cell != line.messages.end() && bad != line.messages.end() &&
        messages_.all()[*cell].span.end == messages_.all()[*bad].span.begin)
      gone_[*cell] = true;
  }

  void explain(const Line& line) {
    drop_short_row(line);
    const auto slips = slips_of(line.text);
    std::size_t unread_to = 0;  // what stands before it was not read, for a slip before it
    for (std::size_t s = 0; s < slips.size(); ++s) {
      const Slip& slip = slips[s];
      std::size_t end = statement_end(line, slip.end);
      if (s + 1 < slips.size()) end = std::min(end, slips[s + 1].begin - 1);
      if (slip.hides_one) end = std::min(end, first_behind(line, slip));
      std::vector<std::size_t> caused;
      for (const std::size_t i : line.messages)
        if (!gone_[i] && accounts_for(line, slip, end, messages_.all()[i])) caused.push_back(i);
      const bool unread = slip.begin < unread_to || stands_unread(line, slip.begin);
      if (caused.empty() ? !(slip.sure && unread) : slip.alone) continue;
      if (slip.trip && std::none_of(caused.begin(), caused.end(), [&](std::size_t i) {
            const Message& message = messages_.all()[i];
            return (message.code == Code::expected || message.code == Code::reserved_word) &&
                   message.span.begin == line.at.begin + *slip.trip;
          }))
        continue;
      if (!slip.attribute.empty() && !declares(slip.attribute)) continue;
      if (!slip.no_attribute.empty() && declares(slip.no_attribute)) continue;
      unread_to = std::max(unread_to, statement_end(line, slip.end));
      for (const std::size_t i : caused) gone_[i] = true;
      made_.push_back(
          {Code::cannot_read,
           {line.at.file, line.at.begin + static_cast<std::uint32_t>(slip.begin),
            line.at.begin + static_cast<std::uint32_t>(slip.end)},
           {slip.seen.empty() ? "'" + std::string(line.text.substr(slip.begin, slip.end - slip.begin)) + "'"
                              : slip.seen},
           {},
           hint_of(slip, caused)});
    }
  }

  /// Where the first message from the slip on begins.
  std::size_t first_behind(const Line& line, const Slip& slip) const {
    std::size_t first = line.text.size();
    for (const std::size_t i : line.messages) {
      const std::size_t begin = messages_.all()[i].span.begin - line.at.begin;
      if (begin >= slip.begin) first = std::min(first, begin);
    }
    return first;
  }

  /// Where the statement that is wrong at `from` surely ends, or reading went on behind it.
  std::size_t statement_end(const Line& line, std::size_t from) const {
    const std::size_t end = std::min(line.text.find_first_of(";{}", from), line.text.size());
    const auto read_on = messages_.next_read_on(line.at, line.at.begin + static_cast<std::uint32_t>(from));
    if (!read_on || *read_on == line.at.begin) return end;
    return std::min<std::size_t>(end, *read_on - line.at.begin - 1);  // a blank
  }

  /// The statement could not be read from a place before it on.
  bool stands_unread(const Line& line, std::size_t at) const {
    return std::any_of(line.messages.begin(), line.messages.end(), [&](std::size_t i) {
      const Message& message = messages_.all()[i];
      const std::size_t begin = message.span.begin - line.at.begin;
      return (message.code == Code::expected || message.code == Code::unknown_statement) && begin < at &&
             at < statement_end(line, begin);
    });
  }

  std::string hint_of(const Slip& slip, const std::vector<std::size_t>& caused) const {
    for (const std::size_t i : caused) {
      const std::string& wanted = messages_.all()[i].wanted;
      for (const auto& [dimension, hint] : slip.by_dimension)
        if (dimension == wanted) return hint;
      const bool money =
          wanted.size() == 3 && wanted.find_first_not_of("ABCDEFGHIJKLMNOPQRSTUVWXYZ") == std::string::npos;
      if (money && !slip.by_dimension.empty()) return "an amount in " + wanted + " is wanted here";
    }
    return slip.hint;
  }

  /// "turn:" stands in one of the files.
  bool declares(const std::string& attribute) {
    const auto known = declared_.find(attribute);
    if (known != declared_.end()) return known->second;
    if (declared_.size() >= most_searches) return false;
    return declared_[attribute] = search(attribute);
  }

  bool search(const std::string& attribute) const {
    for (std::size_t file = 0; file < sources_.size(); ++file) {
      const std::string_view bytes = sources_[FileId{file}].bytes;
      for (std::size_t at = bytes.find(attribute); at != std::string_view::npos;
           at = bytes.find(attribute, at + 1)) {
        const std::size_t behind = bytes.find_first_not_of(" \t", at + attribute.size());
        const bool whole =
            at == 0 || std::string_view(" \t\n\r{};\"").find(bytes[at - 1]) != std::string_view::npos;
        if (whole && behind != std::string_view::npos && bytes[behind] == ':') return true;
      }
    }
    return false;
  }

  static constexpr std::size_t most_searches = 20;  // each reads all files again
  std::map<std::string, bool> declared_;
  const Sources& sources_;
  Messages& messages_;
  std::vector<bool> gone_;
  std::vector<Message> made_;
};

}  // namespace

void explain_slips(const Sources& sources, Messages& messages) {
  if (messages.has_errors()) Explainer(sources, messages).run();
}

}  // namespace mm

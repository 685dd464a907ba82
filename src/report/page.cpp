#include "report/page.hpp"

#include <algorithm>
#include <cctype>
#include <vector>

#include "base/display_width.hpp"
#include "units/unit_table.hpp"

namespace mm {

namespace {

std::vector<std::string_view> words_of(std::string_view text) {
  std::vector<std::string_view> words;
  std::size_t i = 0;
  while (i < text.size()) {
    if (text[i] == ' ' || text[i] == '\n') {
      ++i;
      continue;
    }
    std::size_t end = i;
    while (end < text.size() && text[end] != ' ' && text[end] != '\n') ++end;
    words.push_back(text.substr(i, end - i));
    i = end;
  }
  return words;
}

bool is_number_like(std::string_view word) {
  while (!word.empty() && (word[0] == '(' || word[0] == '-' || word[0] == '+')) word.remove_prefix(1);
  return !word.empty() && std::isdigit(static_cast<unsigned char>(word[0])) != 0 &&
         std::isalnum(static_cast<unsigned char>(word.back())) != 0;
}

bool is_unit_like(std::string_view word) {
  while (!word.empty() && std::string_view(".,;:)]").find(word.back()) != std::string_view::npos)
    word.remove_suffix(1);
  const std::string_view head = word.substr(0, word.find_first_of("*/^"));
  return !head.empty() && is_builtin_unit(head);
}

/// "7/8" of "1 7/8 in".
bool is_fraction(std::string_view word) {
  const auto digits = [](std::string_view text) {
    return !text.empty() && text.find_first_not_of("0123456789") == std::string_view::npos;
  };
  const auto slash = word.find('/');
  return slash != std::string_view::npos && digits(word.substr(0, slash)) && digits(word.substr(slash + 1));
}

/// A word and what must not be parted from it.
std::vector<std::string> pieces_of(std::string_view text) {
  std::vector<std::string> pieces;
  const auto words = words_of(text);
  bool number = false;
  for (std::size_t i = 0; i < words.size(); ++i) {
    const bool mixed = number && is_fraction(words[i]) && i + 1 < words.size() && is_unit_like(words[i + 1]);
    if (mixed || (number && is_unit_like(words[i]))) {
      pieces.back() += " ";
      pieces.back() += words[i];
      number = mixed;
      continue;
    }
    number = is_number_like(words[i]);
    pieces.emplace_back(words[i]);
  }
  return pieces;
}

const char* code_of(Tone tone) {
  switch (tone) {
    case Tone::plain:
      return "";
    case Tone::bold:
      return "\x1b[1m";
    case Tone::bad:
      return "\x1b[1;31m";
    case Tone::doubtful:
      return "\x1b[33m";
    case Tone::good:
      return "\x1b[32m";
    case Tone::faint:
      return "\x1b[2m";
  }
  return "";
}

}  // namespace

std::string wrap(std::string_view text, std::size_t first, std::size_t rest, std::size_t width) {
  std::string out(first, ' ');
  std::size_t column = first;
  bool line_empty = true;
  const auto new_line = [&] {
    out += '\n';
    out.append(rest, ' ');
    column = rest;
    line_empty = true;
  };
  for (const auto& piece : pieces_of(text)) {
    std::string_view left = piece;
    const std::size_t wanted = display_width(left);
    if (!line_empty && column + 1 + wanted > width) new_line();
    if (!line_empty) {
      out += ' ';
      ++column;
    }
    if (wanted == left.size() && column + wanted <= width) {  // as nearly all do: a column a byte
      out += left;
      column += wanted;
      line_empty = false;
      continue;
    }
    while (!left.empty()) {
      const Glyph glyph = front_glyph(left);
      if (column + glyph.columns > width && column > rest) new_line();
      out += left.substr(0, glyph.bytes);
      column += glyph.columns;
      left.remove_prefix(glyph.bytes);
      line_empty = false;
    }
  }
  out += '\n';
  return out;
}

void Page::heading(std::string_view words, Tone tone) {
  blank();
  text(words, 0, 2, tone);
}

void Page::text(std::string_view words, std::size_t first, std::size_t rest, Tone tone,
                std::size_t head_end) {
  std::string lines = wrap(words, first, rest, width_);
  if (colour_ && tone != Tone::plain) {
    std::size_t end = head_end == std::string::npos ? lines.size() - 1 : first + head_end;
    const std::size_t line_end = lines.find('\n');
    if (head_end != std::string::npos && end > line_end) end = line_end;
    lines.insert(end, "\x1b[0m");
    lines.insert(first, code_of(tone));
  }
  out_ += lines;
}

void Page::raw(std::string_view line) {
  out_ += line;
  out_ += '\n';
}

void Page::blank() {
  if (!out_.empty() && !out_.ends_with("\n\n")) out_ += '\n';
}

void Page::add(const Page& other) {
  if (other.out_.empty()) return;
  blank();
  out_ += other.out_;
}

std::string counted(std::size_t n, std::string_view one, std::string_view many) {
  std::string out = std::to_string(n) + " ";
  if (n == 1) return out + std::string(one);
  return out + (many.empty() ? std::string(one) + "s" : std::string(many));
}

}  // namespace mm

#include "text/source.hpp"

#include <algorithm>

#include "base/utf8.hpp"

namespace mm {

namespace {

constexpr std::size_t stretch = 4096;  // of bytes between which characters are counted

std::uint32_t count_in(std::string_view bytes) { return static_cast<std::uint32_t>(characters_in(bytes)); }

}  // namespace

std::string_view Sources::text(Span span) const {
  if (!span.file) return {};
  return std::string_view(files_[span.file].bytes).substr(span.begin, span.end - span.begin);
}

FileId Sources::add(SourceFile file) {
  line_begins_.emplace_back();
  return files_.add(std::move(file));
}

const Sources::LineBegins& Sources::lines_of(FileId file) const {
  LineBegins& lines = line_begins_[file.index];
  std::call_once(lines.made, [&] {
    const std::string_view bytes = files_[file].bytes;
    lines.at.push_back(0);
    for (std::size_t at = bytes.find('\n'); at != std::string_view::npos; at = bytes.find('\n', at + 1))
      lines.at.push_back(static_cast<std::uint32_t>(at + 1));
    std::uint32_t characters = 0;
    for (std::size_t at = 0; at < bytes.size(); at += stretch) {
      lines.characters.push_back(characters);
      characters += count_in(bytes.substr(at, stretch));
    }
  });
  return lines;
}

Place Sources::place(Span span) const {
  Place place;
  if (!span.file) return place;
  const LineBegins& lines = lines_of(span.file);
  const auto next = std::upper_bound(lines.at.begin(), lines.at.end(), span.begin);
  place.line = static_cast<std::uint32_t>(next - lines.at.begin());
  const std::string_view bytes = files_[span.file].bytes;
  const auto before = [&](std::size_t at) {  // characters
    const std::size_t whole = std::min(at / stretch, lines.characters.size() - 1);
    return lines.characters[whole] + count_in(bytes.substr(whole * stretch, at - whole * stretch));
  };
  if (!bytes.empty()) place.column += before(span.begin) - before(*(next - 1));
  return place;
}

std::string_view Sources::line_of(Span span) const {
  if (!span.file) return {};
  const auto& begins = lines_of(span.file).at;
  const auto next = std::upper_bound(begins.begin(), begins.end(), span.begin);
  const std::string_view bytes = files_[span.file].bytes;
  const std::size_t begin = *(next - 1), end = next == begins.end() ? bytes.size() : *next - 1;
  auto line = bytes.substr(begin, end - begin);
  if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
  return line;
}

}  // namespace mm

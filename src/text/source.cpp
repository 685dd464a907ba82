#include "text/source.hpp"

#include <algorithm>

namespace mm {

std::string_view Sources::text(Span span) const {
  if (!span.file) return {};
  return std::string_view(files_[span.file].bytes).substr(span.begin, span.end - span.begin);
}

FileId Sources::add(SourceFile file) {
  line_begins_.emplace_back();
  return files_.add(std::move(file));
}

Place Sources::place(Span span) const {
  Place place;
  if (!span.file) return place;
  LineBegins& lines = line_begins_[span.file.index];
  std::vector<std::uint32_t>& begins = lines.at;
  std::call_once(lines.made, [&] {
    const std::string_view bytes = files_[span.file].bytes;
    begins.push_back(0);
    for (std::size_t at = bytes.find('\n'); at != std::string_view::npos; at = bytes.find('\n', at + 1))
      begins.push_back(static_cast<std::uint32_t>(at + 1));
  });
  const auto next = std::upper_bound(begins.begin(), begins.end(), span.begin);
  place.line = static_cast<std::uint32_t>(next - begins.begin());
  const std::uint32_t begin = *(next - 1);
  for (const char c : std::string_view(files_[span.file].bytes).substr(begin, span.begin - begin))
    if ((static_cast<unsigned char>(c) & 0xC0U) != 0x80U) ++place.column;
  return place;
}

std::string_view Sources::line_of(Span span) const {
  if (!span.file) return {};
  const std::string_view bytes = files_[span.file].bytes;
  const auto begin_at = span.begin == 0 ? std::string_view::npos : bytes.rfind('\n', span.begin - 1);
  const auto begin = begin_at == std::string_view::npos ? 0 : begin_at + 1;
  auto line = bytes.substr(begin, bytes.find('\n', begin) - begin);
  if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
  return line;
}

}  // namespace mm

#include "text/source.hpp"

#include <algorithm>

namespace mm {

std::string_view Sources::text(Span span) const {
  if (!span.file) return {};
  return std::string_view(files_[span.file].bytes).substr(span.begin, span.end - span.begin);
}

Place Sources::place(Span span) const {
  Place place;
  if (!span.file) return place;
  const std::string_view before = std::string_view(files_[span.file].bytes).substr(0, span.begin);
  place.line = 1 + static_cast<std::uint32_t>(std::count(before.begin(), before.end(), '\n'));
  const auto line_begin = before.rfind('\n') == std::string_view::npos ? 0 : before.rfind('\n') + 1;
  for (const char c : before.substr(line_begin))
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

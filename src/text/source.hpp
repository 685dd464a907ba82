// Source files held whole in memory, spans into them, and line and column computed when shown.
#pragma once
#include <cstdint>
#include <deque>
#include <mutex>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/ids.hpp"

namespace mm {

struct FileTag;
using FileId = Id<FileTag>;

/// Bytes [begin, end) of one file. file none: no place in any text.
struct Span {
  FileId file;
  std::uint32_t begin = 0;
  std::uint32_t end = 0;
  bool operator==(const Span&) const = default;
};

/// One-based line and column; a column counts characters (code points), not bytes. CRLF counts as one line
/// end.
struct Place {
  std::uint32_t line = 1;
  std::uint32_t column = 1;
};

struct SourceFile {
  std::string path;   // as shown to the user
  std::string bytes;  // valid UTF-8 without byte-order mark
};

class Sources {
 public:
  FileId add(SourceFile file);
  /// Takes a file out, without moving a text of more than a few bytes; nothing may refer to it here any more.
  SourceFile release(FileId id) { return std::move(files_[id]); }
  const SourceFile& operator[](FileId id) const { return files_[id]; }
  std::size_t size() const { return files_.size(); }
  std::string_view text(Span span) const;
  Place place(Span span) const;               // of its begin
  std::string_view line_of(Span span) const;  // the line that holds its begin, without line end

 private:
  BlockStore<SourceFile, FileId> files_;  // texts keep their addresses
  struct LineBegins {
    std::once_flag made;
    std::vector<std::uint32_t> at;
    std::vector<std::uint32_t> characters;  // before each stretch of the file
  };
  const LineBegins& lines_of(FileId file) const;

  /// By file; made when a place in it is first asked for, by any thread. A report asks for many.
  mutable std::deque<LineBegins> line_begins_;
};

}  // namespace mm

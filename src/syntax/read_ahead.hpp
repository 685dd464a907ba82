// Files that will soon be wanted, read and parsed on another processor before their turn comes.
#pragma once
#include <memory>
#include <string>
#include <vector>

#include "base/helpers.hpp"
#include "syntax/graft.hpp"

namespace mm {

class ReadAhead {
 public:
  /// No helpers: nothing is read ahead.
  ReadAhead(Helpers* helpers, std::size_t max_file_bytes, std::size_t max_nesting);
  ~ReadAhead();
  ReadAhead(const ReadAhead&) = delete;
  ReadAhead& operator=(const ReadAhead&) = delete;

  /// These files are wanted next, in this order, before those that are expected already.
  void expect(const std::vector<std::string>& paths);
  /// The turn of a file has come. Null where it is not read yet, or is not plainly right: then the caller
  /// reads it, and says what is wrong. Waits for nothing. What it gives stays as long as this.
  FileApart* take(const std::string& path);

 private:
  struct Shelf;

  Helpers* helpers_;
  std::shared_ptr<Shelf> shelf_;
};

}  // namespace mm

// Reads a file and every file that it uses, and parses them.
#pragma once
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/helpers.hpp"
#include "syntax/parse.hpp"

namespace mm {

struct LoadOptions {
  std::vector<std::string> rule_folders;  // may be read besides the folder of the first file
  std::size_t max_file_bytes = 64U << 20U;
  std::size_t max_files = 1000;
  std::size_t max_nesting = usual_nesting;
  Helpers* helpers = nullptr;  // none: files are read one after the other
  /// Told how many bytes were read so far, before they are parsed; of small files that helpers read, after.
  std::function<void(std::size_t)> text_grows;
};

/// Appends one FileTree a file to tree.files, used files before the ones that use them; each file once,
/// whatever path names it. A path in `use` is relative to the file that says it and may not lead, through ..
/// or links, outside the first file's folder and the rule folders. Nothing else is opened. Whatever is wrong
/// becomes a message; the result is none only when the first file itself could not be read.
std::optional<FileId> load(const std::string& path, const LoadOptions& options, Sources& sources,
                           Names& names, Tree& tree, Messages& messages);

/// Parses a text that is in no file; its `use` statements are not followed. None when it is not text.
std::optional<FileId> load_text(std::string name, std::string text, Sources& sources, Names& names,
                                Tree& tree, Messages& messages, std::size_t max_nesting = usual_nesting);

}  // namespace mm

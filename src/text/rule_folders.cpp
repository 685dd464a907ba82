#include "text/rule_folders.hpp"

#include <algorithm>
#include <filesystem>

#include "base/characters.hpp"
#include "text/read_file.hpp"

namespace mm {

namespace {

namespace fs = std::filesystem;

constexpr int deepest = 4;
constexpr std::size_t most_files = 1000, most_bytes_a_file = 1U << 20U, most_bytes = 32U << 20U;

std::vector<fs::path> rule_files(const std::vector<std::string>& folders) {
  std::vector<fs::path> out;
  std::size_t seen = 0;
  for (const std::string& folder : folders) {
    std::error_code error;
    fs::recursive_directory_iterator at(folder, fs::directory_options::skip_permission_denied, error), end;
    for (; !error && at != end && ++seen < 4 * most_files && out.size() < most_files; at.increment(error)) {
      if (at.depth() >= deepest) at.disable_recursion_pending();
      std::error_code ignored;
      if (at->symlink_status(ignored).type() == fs::file_type::regular) out.push_back(at->path());
    }
  }
  std::sort(out.begin(), out.end());
  return out;
}

bool declares(std::string_view text, std::string_view sort, std::string_view name) {
  while (!text.empty()) {
    const std::size_t line_end = std::min(text.find('\n'), text.size());
    std::string_view line = text.substr(0, line_end);
    text.remove_prefix(std::min(line_end + 1, text.size()));
    const auto skip = [&] {
      while (!line.empty() && is_gap(line[0])) line.remove_prefix(1);
    };
    skip();
    if (!line.starts_with(sort)) continue;
    line.remove_prefix(sort.size());
    if (line.empty() || is_in_word(line[0])) continue;
    skip();
    if (line.starts_with(name) && (line.size() == name.size() || !is_in_word(line[name.size()]))) return true;
  }
  return false;
}

}  // namespace

std::vector<std::string> files_named(const std::vector<std::string>& folders, std::string_view name) {
  std::vector<std::string> out;
  for (const fs::path& path : rule_files(folders))
    if (path.filename() == name) out.push_back(path.string());
  return out;
}

std::vector<std::string> files_declaring(const std::vector<std::string>& folders, std::string_view sort,
                                         std::string_view name, std::size_t most) {
  std::vector<std::string> out;
  std::size_t bytes = 0;
  for (const fs::path& path : rule_files(folders)) {
    const std::string ending = path.extension().string();
    if (ending != ".rules" && ending != ".parts" && ending != ".build") continue;
    const ReadResult read = read_file(path.string(), most_bytes_a_file);
    bytes += read.bytes.size();
    if (bytes > most_bytes) break;
    if (read.problem == ReadProblem::none && declares(read.bytes, sort, name)) out.push_back(path.string());
    if (out.size() == most) break;
  }
  return out;
}

std::string file_beside(const std::string& file, std::string_view ending) {
  const fs::path path(file);
  fs::path beside = path;
  beside.replace_filename(path.stem().string() + std::string(ending) + path.extension().string());
  std::error_code error;
  return fs::symlink_status(beside, error).type() == fs::file_type::regular ? beside.string() : std::string();
}

std::string path_from(const std::string& user, const std::string& file) {
  std::error_code error;
  const fs::path from = fs::weakly_canonical(user, error).parent_path();
  const fs::path to = error ? fs::path() : fs::weakly_canonical(file, error);
  return error ? std::string() : to.lexically_relative(from).generic_string();
}

}  // namespace mm

// A file is parsed before the files that it uses are opened, but takes its place in the tree after them: its
// tree is held back on the stack of files under way. That stack is also what a circle is seen in.
#include "syntax/load.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <filesystem>
#include <system_error>
#include <unordered_map>
#include <unordered_set>

#include "syntax/parse.hpp"
#include "syntax/read_ahead.hpp"
#include "text/read_file.hpp"

namespace mm {

namespace {

namespace fs = std::filesystem;

bool inside(const fs::path& path, const fs::path& root) {
  return std::mismatch(root.begin(), root.end(), path.begin(), path.end()).first == root.end();
}

std::vector<const UseDecl*> uses_of(const FileTree& file) {
  std::vector<const UseDecl*> result;
  for (const Declaration& declaration : file.declarations) {
    if (const auto* use = declared_as<UseDecl>(declaration)) result.push_back(use);
    if (const auto* build = declared_as<BuildDecl>(declaration))
      for (const UseDecl& use : build->uses) result.push_back(&use);
  }
  std::sort(result.begin(), result.end(), [](auto* a, auto* b) { return a->span.begin < b->span.begin; });
  return result;
}

class Loader {
 public:
  Loader(const LoadOptions& options, Sources& sources, Names& names, Tree& tree, Messages& messages)
      : options_(options),
        sources_(sources),
        names_(names),
        tree_(tree),
        messages_(messages),
        ahead_(options.helpers, options.max_file_bytes, options.max_nesting) {}

  std::optional<FileId> start(const std::string& path) {
    const fs::path shown = fs::path(path).lexically_normal();
    std::error_code error;
    const fs::path canonical = fs::canonical(shown, error);
    if (error) return open_failed(shown, {});
    roots_.push_back(canonical.parent_path());
    for (const std::string& folder : options_.rule_folders) {
      fs::path root = fs::canonical(folder, error);
      if (!error) roots_.push_back(root.has_filename() ? root : root.parent_path());
    }
    const auto first = read(shown, canonical, {});
    follow();
    return first;
  }

 private:
  struct UnderWay {  // a file whose uses are being followed
    fs::path shown, canonical, folder;
    FileTree tree;
    std::vector<UseDecl> uses;
    std::size_t next = 0;
  };

  std::nullopt_t open_failed(const fs::path& shown, Span where) {
    const ReadResult result = read_file(shown.string(), options_.max_file_bytes);
    say(result, shown, where);
    return std::nullopt;
  }

  void say(const ReadResult& result, const fs::path& shown, Span where) {
    const std::string name = shown.string();
    switch (result.problem) {
      case ReadProblem::none:
      case ReadProblem::missing:
        messages_.add(Code::file_missing, where, {name});
        break;
      case ReadProblem::folder:
        messages_.add(Code::file_is_folder, where, {name});
        break;
      case ReadProblem::not_regular:
        messages_.add(Code::file_unreadable, where, {name, "it is not an ordinary file"});
        break;
      case ReadProblem::unreadable:
        messages_.add(Code::file_unreadable, where, {name, result.reason});
        break;
      case ReadProblem::too_large:
        messages_.add(Code::file_too_large, where, {name, std::to_string(options_.max_file_bytes)},
                      "allow more with --max-file-size");
        break;
    }
  }

  void count(std::size_t bytes) {
    bytes_read_ += bytes;
    if (options_.text_grows) options_.text_grows(bytes_read_);
  }

  /// Reads and parses one file and puts it on the stack.
  std::optional<FileId> read(const fs::path& shown, const fs::path& canonical, Span where) {
    std::optional<FileId> file;
    if (FileApart* apart = ahead_.take(canonical.native())) {
      count(apart->sources[FileId{0U}].bytes.size());
      file = graft(*apart, shown.string(), sources_, names_, tree_);
    } else {
      ReadResult result = read_file(canonical.string(), options_.max_file_bytes, Links::refuse);
      if (result.problem != ReadProblem::none) {
        say(result, shown, where);
        return std::nullopt;
      }
      count(result.bytes.size());
      file = load_text(shown.string(), std::move(result.bytes), sources_, names_, tree_, messages_,
                       options_.max_nesting);
    }
    if (!file) return file;
    under_way_.push_back({shown, canonical, canonical.parent_path(), std::move(tree_.files.back()), {}});
    tree_.files.pop_back();
    for (const UseDecl* use : uses_of(under_way_.back().tree)) under_way_.back().uses.push_back(*use);
    expect_uses(under_way_.back());
    return file;
  }

  /// All but the first, whose turn is now.
  void expect_uses(const UnderWay& file) {
    std::vector<std::string> paths;
    for (const UseDecl& use : file.uses) {
      if (paths.size() >= options_.max_files) break;  // no more are read
      const Met& met = meet(use, file.folder);
      if (met.allowed && !seen_.contains(met.canonical)) paths.push_back(met.canonical);
    }
    if (paths.size() < 2) return;
    paths.erase(paths.begin());
    ahead_.expect(paths);
  }

  void follow() {
    while (!under_way_.empty()) {
      UnderWay& file = under_way_.back();
      if (file.next < file.uses.size()) {
        const UseDecl use = file.uses[file.next++];
        use_file(use, file.shown);
        continue;
      }
      tree_.files.push_back(std::move(file.tree));
      under_way_.pop_back();
    }
  }

  /// As weakly_canonical, which asks about every folder on the way, each time; rule files lie together in a
  /// few folders, and many use the same.
  fs::path real_path(const fs::path& path, std::error_code& error) {
    const fs::path name = path.filename();
    if (name.empty() || name == "." || name == "..") return fs::weakly_canonical(path, error);
    fs::path& folder = real_folders_[path.parent_path().string()];
    if (folder.empty()) folder = fs::weakly_canonical(path.parent_path(), error);
    if (error) return {};
    std::error_code unknown;  // that there is no such file, the reader will say
    fs::path real = folder / name;
    if (fs::is_symlink(fs::symlink_status(real, unknown))) real = fs::weakly_canonical(path, error);
    return real;
  }

  auto find_under_way(const std::string& canonical) const {
    return std::find_if(under_way_.begin(), under_way_.end(),
                        [&](const UnderWay& file) { return file.canonical.native() == canonical; });
  }

  struct Met {
    std::string canonical;
    bool allowed = false;  // in a folder from which files may be read
    bool loops = false;    // a link on the way, in such a folder, leads back to itself
  };

  const Met& meet(const UseDecl& use, const fs::path& folder) {
    const auto [at, fresh] = met_.try_emplace(folder.native() + '\0' + std::string(use.path.text));
    if (!fresh) return at->second;
    std::error_code error;
    const fs::path canonical = real_path(folder / fs::path(use.path.text), error);
    at->second.canonical = canonical.native();
    at->second.allowed = !error && !use.path.text.empty() &&
                         use.path.text.find('\0') == std::string_view::npos && in_roots(canonical);
    at->second.loops = error == std::errc::too_many_symbolic_link_levels &&
                       in_roots((folder / fs::path(use.path.text)).lexically_normal());
    return at->second;
  }

  bool in_roots(const fs::path& path) const {
    return std::any_of(roots_.begin(), roots_.end(),
                       [&](const fs::path& root) { return inside(path, root); });
  }

  void use_file(const UseDecl& use, const fs::path& user) {
    const Span where = use.path.span;
    if (use.path.text.empty()) {
      messages_.add(Code::expected, where, {"a file's path in quotes", " after 'use'", "an empty text"},
                    "as use \"rules/wheels.rules\"");
      return;
    }
    const Met& met = meet(use, under_way_.back().folder);
    if (met.loops) {
      messages_.add(Code::file_unreadable, where,
                    {(user.parent_path() / use.path.text).lexically_normal().string(),
                     std::generic_category().message(ELOOP)});
      return;
    }
    if (!met.allowed) {
      messages_.add(Code::use_outside_roots, where, {std::string(use.path.text)},
                    "a file may use files in the first file's folder and in the rule folders; "
                    "--rules FOLDER adds one");
      return;
    }
    if (find_under_way(met.canonical) != under_way_.end() || !seen_.insert(met.canonical).second)
      return use_again(use, met.canonical);
    if (seen_.size() >= options_.max_files) {
      if (seen_.size() == options_.max_files)
        messages_.add(Code::use_too_many, where, {std::to_string(options_.max_files)});
      return;
    }
    read((user.parent_path() / use.path.text).lexically_normal(), met.canonical, where);
  }

  /// A file that was met before: all is well unless it is one of those that lead here.
  void use_again(const UseDecl& use, const std::string& canonical) {
    const auto circle = find_under_way(canonical);
    if (circle == under_way_.end()) return;
    std::string route;
    for (auto file = circle; file != under_way_.end(); ++file) route += file->shown.string() + " -> ";
    messages_.add(Code::use_circle, use.path.span, {route + circle->shown.string()},
                  "move what both need into a file of its own");
    messages_.hides_nothing();  // each of them is read
  }

  const LoadOptions& options_;
  Sources& sources_;
  Names& names_;
  Tree& tree_;
  Messages& messages_;
  std::size_t bytes_read_ = 0;
  std::vector<fs::path> roots_;
  std::unordered_set<std::string> seen_;
  std::unordered_map<std::string, fs::path> real_folders_;  // by the way that was written
  std::unordered_map<std::string, Met> met_;                // by the using folder and what is written
  std::vector<UnderWay> under_way_;
  ReadAhead ahead_;
};

}  // namespace

std::optional<FileId> load(const std::string& path, const LoadOptions& options, Sources& sources,
                           Names& names, Tree& tree, Messages& messages) {
  return Loader(options, sources, names, tree, messages).start(path);
}

std::optional<FileId> load_text(std::string name, std::string text, Sources& sources, Names& names,
                                Tree& tree, Messages& messages, std::size_t max_nesting) {
  if (text.starts_with("\xEF\xBB\xBF")) text.erase(0, 3);
  const FileId file = sources.add({std::move(name), std::move(text)});
  const std::string_view bytes = sources[file].bytes;
  const auto at = [&](std::size_t i) {
    return Span{file, static_cast<std::uint32_t>(i), static_cast<std::uint32_t>(i + 1)};
  };
  if (const std::size_t zero = bytes.find('\0'); zero != std::string_view::npos) {
    const bool wide = bytes.starts_with("\xFF\xFE") || bytes.starts_with("\xFE\xFF") || zero < 2;
    messages.add(Code::file_not_text, at(zero), {}, wide ? "if it is UTF-16, save it as UTF-8" : "");
    return std::nullopt;
  }
  if (const auto bad = first_invalid_utf8(bytes)) {
    messages.add(Code::file_not_utf8, at(*bad),
                 {fmt::format("{:02X}", static_cast<unsigned char>(bytes[*bad]))}, "save the file as UTF-8");
    return std::nullopt;
  }
  parse(file, sources, names, tree, messages, max_nesting);
  return file;
}

}  // namespace mm

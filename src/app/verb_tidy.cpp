#include <fmt/format.h>

#include <algorithm>

#include "app/limits.hpp"
#include "app/output.hpp"
#include "app/pipeline.hpp"
#include "app/replace_file.hpp"
#include "app/verbs.hpp"
#include "syntax/load.hpp"
#include "syntax/print.hpp"
#include "syntax/same_tree.hpp"
#include "text/read_file.hpp"

namespace mm {

namespace {

/// The tidy text of one file alone; what it uses is not read. False with messages when it cannot be had.
bool tidy_text(const std::string& path, const Options& options, std::string& before, std::string& after) {
  Sources sources;
  Names names;
  Tree tree;
  Messages messages;
  ReadResult read = read_file(path, options.max_file_bytes());
  if (read.problem != ReadProblem::none) {
    // load says why in the usual words
    LoadOptions limits;
    limits.max_file_bytes = options.max_file_bytes();
    (void)load(path, limits, sources, names, tree, messages);
    write_messages(messages, sources, options.max_errors);
    if (!messages.has_errors()) complain(fmt::format("cannot read \"{}\"", printable(path)));
    return false;
  }
  before = read.bytes;
  limit_memory(options.max_megabytes, before.size());
  const auto file =
      load_text(path, std::move(read.bytes), sources, names, tree, messages, options.max_nesting);
  write_messages(messages, sources, options.max_errors);
  if (messages.has_errors() || !file) return false;
  after = print(tree.files[0], tree, sources, names);
  Tree again;
  Messages silent;
  const auto printed = load_text(path, after, sources, names, again, silent, options.max_nesting);
  if (printed && !silent.has_errors() && same_tree(tree.files[0], tree, again.files[0], again, sources))
    return true;
  complain(
      fmt::format("fault in the program: the tidy form of \"{}\" would not say the same; nothing was written",
                  printable(path)));
  return false;
}

/// As it is but for what would steer a terminal.
std::string harmless(std::string_view text) {
  std::string out;
  for (std::size_t begin = 0; begin < text.size();) {
    const std::size_t end = std::min(text.find('\n', begin), text.size());
    out += printable(text.substr(begin, end - begin)) + "\n";
    begin = end + 1;
  }
  return out;
}

}  // namespace

void declare_tidy(Arguments& verb, Options& options) {
  verb.needed("FILE", options.files, "files to lay out");
  verb.flag("--write", options.write, "in place, not to standard output");
  verb.flag("--check", options.check, "only name the files that are not tidy; exit 1 if any");
  declare_limits(verb, options);
}

Status run_tidy(const Options& options) {
  if (options.write && options.check) {
    complain("tidy takes --write or --check, not both");
    return Status::wrong_use;
  }
  bool text_wrong = false, untidy = false, unwritten = false;
  std::string out;
  for (const std::string& path : options.files) {
    std::string before, after;
    if (!tidy_text(path, options, before, after)) {
      text_wrong = true;
    } else if (options.check) {
      if (before != after) out += printable(path) + " is not tidy\n";
      untidy = untidy || before != after;
    } else if (options.write) {
      unwritten = (before != after && !replace_file(path, before, after)) || unwritten;
    } else {
      out += after;
    }
  }
  if (!write_out(writes_to_terminal() ? harmless(out) : out) || unwritten) return Status::wrong_use;
  return text_wrong ? Status::text_wrong : untidy ? Status::conflict : Status::fits;
}

}  // namespace mm

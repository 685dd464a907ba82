// One way of loading a catalogue, in a process of its own so that its peak memory is its own.
//   load_peers WAY FILE [ROUNDS [RULE_FOLDER]]
// prints the milliseconds of each round; the peak memory is the caller's to read.
#include <chrono>
#include <cstdio>
#include <cstring>
#include <fstream>
#include <nlohmann/json.hpp>
#include <tao/pegtl.hpp>

#include "builds.hpp"
#include "resolve/resolve.hpp"
#include "syntax/load.hpp"
#include "text/read_file.hpp"

namespace {

std::string bytes_of(const std::string& file) {
  mm::ReadResult read = mm::read_file(file, std::size_t{1} << 30U);
  if (read.problem != mm::ReadProblem::none) std::exit(4);
  return std::move(read.bytes);
}

/// What `check` does before it judges: reading, parsing, binding names, checking dimensions.
std::size_t load_matchmark(const std::string& file, const char* rules) {
  mm::Sources sources;
  mm::Names names;
  mm::Tree tree;
  mm::Messages messages;
  mm::LoadOptions options;
  if (rules != nullptr) options.rule_folders.emplace_back(rules);
  const auto first = mm::load(file, options, sources, names, tree, messages);
  if (!first) std::exit(4);
  const mm::Project project = mm::resolve(tree, sources, names, messages, *first);
  if (messages.has_errors()) std::exit(4);
  return project.model.parts.size();
}

std::size_t load_json(const std::string& file) {
  std::ifstream in(file, std::ios::binary);
  return nlohmann::json::parse(in).size();
}

std::size_t load_json_bytes(const std::string& file) { return nlohmann::json::parse(bytes_of(file)).size(); }

/// The project's grammar without actions: what any parser built on it costs at least.
std::size_t recognise(const std::string& file) {
  const std::string bytes = bytes_of(file);
  tao::pegtl::memory_input<tao::pegtl::tracking_mode::lazy> in(bytes, "");
  if (!tao::pegtl::parse<mm::grammar::file>(in)) std::exit(4);
  return bytes.size();
}

std::size_t count_lines(const std::string& file) {
  const std::string bytes = bytes_of(file);
  std::size_t lines = 0;
  const char* at = bytes.data();
  const char* const end = at + bytes.size();
  while ((at = static_cast<const char*>(std::memchr(at, '\n', static_cast<std::size_t>(end - at)))) !=
         nullptr) {
    ++lines;
    ++at;
  }
  return lines;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 3) return 4;
  const std::string way = argv[1], file = argv[2];
  const int rounds = argc > 3 ? std::atoi(argv[3]) : 1;
  for (int round = 0; round < rounds; ++round) {
    const auto begin = std::chrono::steady_clock::now();
    const std::size_t count = way == "matchmark"    ? load_matchmark(file, argc > 4 ? argv[4] : nullptr)
                              : way == "json"       ? load_json_bytes(file)
                              : way == "json_file"  ? load_json(file)
                              : way == "recogniser" ? recognise(file)
                                                    : count_lines(file);
    const std::chrono::duration<double, std::milli> taken = std::chrono::steady_clock::now() - begin;
    std::printf("%.3f %zu\n", taken.count(), count);
  }
  return 0;
}

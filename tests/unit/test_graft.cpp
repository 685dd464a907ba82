// A file that was parsed alone and taken into the tree leaves no trace of that: every id, symbol and place is
// as if it had been parsed there. So is what is loaded with helpers that read ahead.
#include <doctest/doctest.h>

#include <chrono>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <thread>

#include "syntax/read_ahead.hpp"
#include "syntax_help.hpp"
#include "tree_text.hpp"

namespace fs = std::filesystem;
using namespace mm;
using mm_test::Parsed;

namespace {

std::vector<fs::path> files_of_the_project() {
  std::vector<fs::path> files;
  for (const char* folder : {"rules", "builds", "examples"})
    for (const auto& entry : fs::recursive_directory_iterator(fs::path(MATCHMARK_SOURCE_DIR) / folder)) {
      const fs::path kind = entry.path().extension();
      if (kind == ".rules" || kind == ".parts" || kind == ".build") files.push_back(entry.path());
    }
  std::sort(files.begin(), files.end());
  return files;
}

std::string text_of(const fs::path& file) {
  std::ostringstream text;
  text << std::ifstream(file, std::ios::binary).rdbuf();
  return text.str();
}

std::string everything(const Parsed& parsed) {
  return mm_test::tree_text(parsed.tree, parsed.names) + parsed.said();
}

/// What is left of a load: the tree, the files in order, and what was said.
std::string loaded_text(const std::string& file, Helpers* helpers) {
  LoadOptions options;
  options.rule_folders = {std::string(MATCHMARK_SOURCE_DIR) + "/rules"};
  options.helpers = helpers;
  Sources sources;
  Names names;
  Tree tree;
  Messages messages;
  (void)load(file, options, sources, names, tree, messages);
  std::string text = mm_test::tree_text(tree, names);
  for (std::size_t i = 0; i < sources.size(); ++i)
    text += sources[FileId{i}].path + "\n" + sources[FileId{i}].bytes;
  for (const Message& message : messages.all()) text += render(message, sources);
  return text;
}

}  // namespace

TEST_CASE("a file that is grafted is as one that is parsed in its place") {
  std::size_t compared = 0;
  std::string before = "unit cable = 219 m\npart p : k { front.bore 5 cable }\n";
  for (const fs::path& file : files_of_the_project()) {
    CAPTURE(file);
    const std::string text = text_of(file);
    if (text.size() < least_grafted) continue;
    Parsed straight(before), grafted(before);
    straight.add(text);
    auto apart = std::make_unique<FileApart>();
    Messages messages;
    load_text({}, text, apart->sources, apart->names, apart->tree, messages);
    REQUIRE(messages.all().empty());
    const FileId id = graft(*apart, "test.rules", grafted.sources, grafted.names, grafted.tree);
    apart.reset();
    const std::string wanted = everything(straight);
    CHECK(everything(grafted) == wanted);
    CHECK(grafted.sources[id].bytes == text);
    // and what is parsed after it goes on from there
    straight.add(before);
    grafted.add(before);
    CHECK(everything(grafted) == everything(straight));
    before = text;
    ++compared;
  }
  CHECK(compared > 50);
}

TEST_CASE("helpers change nothing of what is loaded") {
  Helpers helpers(2);
  for (const fs::path& file : files_of_the_project()) {
    CAPTURE(file);
    CHECK(loaded_text(file.string(), &helpers) == loaded_text(file.string(), nullptr));
  }
}

TEST_CASE("files that are wrong, missing or in a circle are told of as ever, with helpers too") {
  std::string pattern = (fs::temp_directory_path() / "matchmark_graft_XXXXXX").string();
  REQUIRE(mkdtemp(pattern.data()) != nullptr);
  const fs::path folder = pattern;
  const std::string text = text_of(fs::path(MATCHMARK_SOURCE_DIR) / "rules/standards/bolts.rules");
  const auto write = [&](const std::string& name, const std::string& bytes) {
    std::ofstream(folder / name, std::ios::binary) << bytes;
  };
  std::string uses;
  for (int i = 0; i < 60; ++i) {
    const std::string name = "f" + std::to_string(i) + ".rules";
    std::string bytes = "use \"f" + std::to_string((i * 7 + 11) % 60) + ".rules\"\n" + text;
    if (i % 13 == 5) bytes += "table { row 1 }\nunit = \n";
    if (i % 17 == 6) bytes += '\0';
    if (i % 19 == 7) bytes += "\xC3(";
    if (i % 23 != 8) write(name, bytes);
    uses += "use \"" + name + "\"\nuse \"../" + name + "\"\n";
  }
  write("a.build", uses);
  const std::string file = (folder / "a.build").string();
  const std::string wanted = loaded_text(file, nullptr);
  for (const char* part :
       {"[use_circle]", "[file_missing]", "[use_outside_roots]", "[file_not_utf8]", "[file_not_text]"})
    CHECK_MESSAGE(wanted.find(part) != std::string::npos, part);
  Helpers helpers(1);
  for (int round = 0; round < 20; ++round) CHECK((loaded_text(file, &helpers) == wanted));
  fs::remove_all(folder);
}

TEST_CASE("what is expected is read ahead, but for what is wrong and what is large") {
  const std::string rules = std::string(MATCHMARK_SOURCE_DIR) + "/rules/";
  Helpers helpers(1);
  // a file that is asked for while it is read is given up, so each time it has twice as long
  const auto read = [&](const std::string& path, std::size_t max_file_bytes) -> std::size_t {
    ReadAhead ahead(&helpers, max_file_bytes, usual_nesting);
    const auto longest = std::chrono::milliseconds(max_file_bytes < 1000 ? 50 : 4000);
    for (std::chrono::microseconds wait(50); wait < longest; wait *= 2) {
      ahead.expect({rules + "all.rules", path});
      std::this_thread::sleep_for(wait);
      if (const FileApart* apart = ahead.take(path)) return apart->sources[FileId{0U}].bytes.size();
    }
    return 0;
  };
  CHECK(read(rules + "hubs.rules", 1U << 20U) == text_of(rules + "hubs.rules").size());
  CHECK(read(rules + "hubs.rules", 100) == 0);
  ReadAhead none(nullptr, 1U << 20U, usual_nesting);
  none.expect({rules + "hubs.rules"});
  CHECK(none.take(rules + "hubs.rules") == nullptr);
}

// Files: what is read, in which order, and what is refused.
#include <doctest/doctest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "syntax_help.hpp"
#include "text/read_file.hpp"

namespace fs = std::filesystem;
using namespace mm;

namespace {

class Folder {
 public:
  Folder() {
    std::string pattern = (fs::temp_directory_path() / "matchmark_load_XXXXXX").string();
    REQUIRE(mkdtemp(pattern.data()) != nullptr);
    path_ = pattern;
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() { fs::remove_all(path_); }

  std::string write(const std::string& name, const std::string& bytes) const {
    fs::create_directories((path_ / name).parent_path());
    std::ofstream(path_ / name, std::ios::binary) << bytes;
    return at(name);
  }
  std::string at(const std::string& name) const { return (path_ / name).string(); }

 private:
  fs::path path_;
};

struct Loaded {
  explicit Loaded(const std::string& path, const LoadOptions& options = {}) {
    root = load(path, options, sources, names, tree, messages);
  }
  /// The files' names in the order of the tree.
  std::string order() const {
    std::string result;
    for (const FileTree& file : tree.files)
      result += fs::path(sources[file.file].path).filename().string() + " ";
    return result;
  }
  std::string said() const {
    std::string result;
    for (const Message& message : messages.all()) {
      const Place place = sources.place(message.span);
      if (message.span.file) result += std::to_string(place.line) + ":" + std::to_string(place.column) + " ";
      result += message_text(message) + "\n";
    }
    return result;
  }

  Sources sources;
  Names names;
  Tree tree;
  Messages messages;
  std::optional<FileId> root;
};

}  // namespace

TEST_CASE("a file stands after the files that it uses, each once") {
  const Folder folder;
  folder.write("c.rules", "currency CCC\n");
  folder.write("sub/b.rules", "use \"../c.rules\"\nuse \"./../sub/../c.rules\"\n");
  const Loaded loaded(
      folder.write("a.build", "use \"sub/b.rules\"\nbuild v { use \"c.rules\" use \"d.parts\" }\n"));
  CHECK(loaded.order() == "c.rules b.rules a.build ");
  CHECK(loaded.said() == "2:29 cannot open \"" + folder.at("d.parts") + "\": no such file\n");
  REQUIRE(loaded.root);
  CHECK(loaded.sources[*loaded.root].path == folder.at("a.build"));
}

TEST_CASE("a shown path is as it was typed") {
  const Folder folder;
  folder.write("x/b.rules", "");
  const std::string file = folder.write("a.build", "use \"x/../x/b.rules\"\n");
  const fs::path typed = fs::relative(file);
  const Loaded loaded((fs::path(".") / typed).string());
  REQUIRE(loaded.tree.files.size() == 2);
  CHECK(loaded.sources[loaded.tree.files[1].file].path == typed.string());
  CHECK(loaded.sources[loaded.tree.files[0].file].path == (typed.parent_path() / "x/b.rules").string());
}

TEST_CASE("a circle is shown whole") {
  const Folder folder;
  folder.write("b.rules", "use \"c.rules\"\n");
  folder.write("c.rules", "use \"b.rules\"\n");
  const Loaded loaded(folder.write("a.rules", "use \"b.rules\"\n"));
  CHECK(loaded.said() == "1:5 files use each other in a circle: " + folder.at("b.rules") + " -> " +
                             folder.at("c.rules") + " -> " + folder.at("b.rules") + "\n");
  const Loaded self(folder.write("s.rules", "use \"s.rules\"\n"));
  CHECK(self.said() == "1:5 files use each other in a circle: " + folder.at("s.rules") + " -> " +
                           folder.at("s.rules") + "\n");
}

TEST_CASE("use never leaves the folders that may be read") {
  const Folder folder;
  folder.write("out/secret.rules", "currency SEC\n");
  folder.write("shelf/good.rules", "currency GUD\n");
  fs::create_directories(folder.at("in"));
  fs::create_symlink(folder.at("out/secret.rules"), folder.at("in/link.rules"));
  fs::create_directory_symlink(folder.at("out"), folder.at("in/folder"));
  fs::create_symlink(folder.at("shelf/good.rules"), folder.at("in/allowed.rules"));
  const std::string text =
      "use \"../out/secret.rules\"\nuse \"link.rules\"\nuse \"folder/secret.rules\"\nuse \"" +
      folder.at("out/secret.rules") + "\"\nuse \"folder/none.rules\"\nuse \"allowed.rules\"\n" +
      "use \"../shelf/good.rules\"\n";
  LoadOptions options;
  options.rule_folders = {folder.at("in/../shelf/")};
  const Loaded loaded(folder.write("in/a.build", text), options);
  CHECK(loaded.order() == "allowed.rules a.build ");
  CHECK(loaded.messages.all().size() == 5);
  for (const Message& message : loaded.messages.all()) CHECK(message.code == Code::use_outside_roots);
  // a folder whose name begins like an allowed one is another folder
  folder.write("in_too/x.rules", "");
  const Loaded other(folder.write("in/b.build", "use \"../in_too/x.rules\"\n"));
  CHECK(other.said() == "1:5 \"../in_too/x.rules\" leads outside the folders that may be read\n");
}

TEST_CASE("what is no ordinary text file is refused") {
  const Folder folder;
  CHECK(Loaded(folder.at("none")).said() == "cannot open \"" + folder.at("none") + "\": no such file\n");
  CHECK_FALSE(Loaded(folder.at("none")).root);
  CHECK(Loaded(folder.at("")).said().find("is a folder, not a file") != std::string::npos);
  REQUIRE(mkfifo(folder.at("pipe").c_str(), 0600) == 0);
  CHECK(Loaded(folder.at("pipe")).said() ==
        "cannot read \"" + folder.at("pipe") + "\": it is not an ordinary file\n");
  CHECK(Loaded("/dev/null").said() == "cannot read \"/dev/null\": it is not an ordinary file\n");
  LoadOptions small;
  small.max_file_bytes = 10;
  CHECK(Loaded(folder.write("big", "# 34567890"), small).said().empty());
  CHECK(Loaded(folder.write("big", "# 345678901"), small).said() ==
        "\"" + folder.at("big") + "\" is larger than the limit of 10 bytes\n");
  if (geteuid() != 0) {  // the superuser may read everything
    folder.write("locked", "");
    fs::permissions(folder.at("locked"), fs::perms::none);
    CHECK(Loaded(folder.at("locked")).said().find("cannot read") == 0);
  }
}

TEST_CASE("a link that is put on the way to a file after it was looked at is not followed") {
  const Folder folder;
  const std::string file = folder.write("in/a.rules", "kind a { }\n");
  fs::create_symlink("a.rules", folder.at("in/link.rules"));
  fs::create_directory_symlink("in", folder.at("way"));
  for (const std::string& linked : {folder.at("in/link.rules"), folder.at("way/a.rules")}) {
    CHECK(read_file(linked, 100).problem == ReadProblem::none);
    const ReadResult refused = read_file(linked, 100, Links::refuse);
    CHECK(refused.problem == ReadProblem::unreadable);
    CHECK(refused.bytes.empty());
  }
  CHECK(read_file(fs::canonical(file).string(), 100, Links::refuse).problem == ReadProblem::none);
}

TEST_CASE("text is checked before it is parsed") {
  const Folder folder;
  CHECK(Loaded(folder.write("zero", std::string("# a\n\0b", 6))).said() ==
        "2:1 this is not a text file: it holds a zero byte\n");
  const Loaded latin(folder.write("latin", "# gr\xC3\xBC\xC3\x9F\n part \xE9\n"));
  CHECK(latin.said() == "2:7 this is not UTF-8 text: byte 0xE9 cannot stand here\n");
  CHECK(latin.tree.files.empty());
  CHECK(Loaded(folder.write("mark", "\xEF\xBB\xBFprt\n")).said() ==
        "1:1 no statement begins with 'prt' here\n");
  CHECK(Loaded(folder.write("empty", "")).said().empty());
  const Loaded crlf(folder.write("crlf", "unit a = 3 mm\r\n# c\r\nunit b 4\r\n"));
  CHECK(crlf.said() == "3:8 expected '=' after 'b', found '4'\n");
  CHECK(crlf.sources.text(crlf.tree.files.at(0).comments.at(0)) == "# c");
}

TEST_CASE("invalid UTF-8 is found at its first byte") {
  // The cases of RFC 3629, section 3 and 4: overlong forms, surrogates, beyond U+10FFFF, cut short.
  CHECK_FALSE(first_invalid_utf8("plain, \xC2\xB1, \xE2\x82\xAC, \xF0\x9F\x98\x80, \xF4\x8F\xBF\xBF"));
  for (const std::string_view bad :
       {"\x80", "\xC0\xAF", "\xC1\xBF", "\xE0\x9F\xBF", "\xED\xA0\x80", "\xF0\x8F\xBF\xBF",
        "\xF4\x90\x80\x80", "\xF5\x80\x80\x80", "\xFE", "\xFF", "\xC2", "\xE2\x82", "\xE2\x28\xA1"}) {
    const std::string text = "ab" + std::string(bad) + "c";
    CHECK(first_invalid_utf8(text) == 2);
  }
}

TEST_CASE("the number of files is bounded") {
  const Folder folder;
  std::string all;
  for (int i = 0; i < 8; ++i) {
    folder.write(std::to_string(i), "");
    all += "use \"" + std::to_string(i) + "\"\n";
  }
  LoadOptions few;
  few.max_files = 5;
  const Loaded loaded(folder.write("a", all), few);
  CHECK(loaded.tree.files.size() == 5);
  CHECK(loaded.said() == "5:5 more than 5 files are used\n");
}

TEST_CASE("a long chain of uses needs no deep stack") {
  const Folder folder;
  for (int i = 0; i < 900; ++i) folder.write(std::to_string(i), "use \"" + std::to_string(i + 1) + "\"\n");
  folder.write("900", "");
  const Loaded loaded(folder.at("0"));
  CHECK(loaded.said().empty());
  CHECK(loaded.tree.files.size() == 901);
  CHECK(fs::path(loaded.sources[loaded.tree.files[0].file].path).filename() == "900");
}

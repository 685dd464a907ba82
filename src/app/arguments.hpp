// What a verb takes on its command line, declared by the verb itself. The library behind it is seen by
// arguments.cpp and by nobody else.
#pragma once
#include <cstddef>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace CLI {
class App;
}  // namespace CLI

namespace mm {

/// "" when the text is right, else the reason in plain words.
using TextCheck = std::function<std::string(const std::string& text)>;

/// Options and arguments of one verb; each writes into a member of Options when the command line is read.
class Arguments {
 public:
  explicit Arguments(CLI::App& verb) : verb_(&verb) {}

  /// One that must be there.
  void needed(const char* name, std::string& into, const char* about);
  /// One or more; `exactly` so many, if not 0.
  void needed(const char* name, std::vector<std::string>& into, const char* about, int exactly = 0);
  /// Any number of further words.
  void words(const char* name, std::vector<std::string>& into, const char* about);

  void flag(const char* name, bool& into, const char* about);
  void number(const char* name, std::size_t& into, const char* about);
  void text(const char* name, const char* shown, std::string& into, const char* about,
            const TextCheck& check = {});
  void one_of(const char* name, const char* shown, std::string& into, const char* about,
              std::vector<std::string> choices);
  /// An option that may be given several times, with one text each.
  void repeatable(const char* name, const char* shown, std::vector<std::string>& into, const char* about,
                  const TextCheck& check);

 private:
  CLI::App* verb_;
};

/// One verb as the command line knows it.
struct VerbArguments {
  std::string_view name, about;
  std::function<void(Arguments&)> declare;
};

struct ParsedLine {
  std::size_t verb = 0;  // index of the verb that was called
  std::string answer;    // help or version that was asked for
  std::string wrong;     // why the line cannot be read; raw text
};

/// Reads the command line into what the verbs declared.
ParsedLine parse_line(int argc, const char* const* argv, const std::vector<VerbArguments>& verbs,
                      const char* about, const char* version, const char* footer);

}  // namespace mm

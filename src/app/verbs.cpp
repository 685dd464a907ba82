#include "app/verbs.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <vector>

#include "app/limits.hpp"
#include "app/output.hpp"
#include "base/near_miss.hpp"
#include "messages/message.hpp"

namespace mm {

namespace {

constexpr Verb verbs[] = {
    {"check", "judge a build: what fits, conflicts or is unknown", declare_check, run_check},
    {"why", "the reasons of one verdict", declare_why, run_why},
    {"trial", "run the trials that rule files carry", declare_trial, run_trial},
    {"list", "what the rules offer, and how it is measured", declare_list, run_list},
    {"tidy", "lay a file out in the usual form", declare_tidy, run_tidy},
    {"schema", "print the JSON Schema of a --json report", declare_schema, run_schema},
};

constexpr const char* footer =
    "\nExit status:\n"
    "  0  all fits (cautions allowed); trials hold; tidy found nothing to change\n"
    "  1  a conflict that no open choice or planned work avoids; a trial fails;\n"
    "     tidy --check would change a file\n"
    "  2  no such conflict, but something is unknown, open, planned, to be chosen,\n"
    "     to be set, or needed as well; or nothing was judged\n"
    "  3  the text is wrong: every error is on standard error\n"
    "  4  wrong use: bad options, a file without a build for check or without a\n"
    "     trial for trial, an unknown build or requirement; or the output could\n"
    "     not be written\n"
    "\nmatchmark compares declared dimensions. It does not judge strength or\n"
    "workmanship. Follow local codes and licensed practice.\n";

std::string missing_folder(const std::string& folder) {
  std::error_code error;
  if (std::filesystem::is_directory(folder, error)) return {};
  return "there is no folder \"" + printable(folder) + "\"";
}

std::string wrong_date(const std::string& text) {
  const auto digit = [&](std::size_t i) { return text[i] >= '0' && text[i] <= '9'; };
  const std::string form = "a date is written 2026-03-14, not \"" + printable(text) + "\"";
  bool good = text.size() == 10 && text[4] == '-' && text[7] == '-';
  for (std::size_t i = 0; good && i < 10; ++i) good = i == 4 || i == 7 || digit(i);
  if (!good) return form;
  {
    const auto number = [&](std::size_t at, std::size_t length) {
      return std::stoi(text.substr(at, length));
    };
    good = std::chrono::year_month_day(std::chrono::year(number(0, 4)),
                                       std::chrono::month(static_cast<unsigned>(number(5, 2))),
                                       std::chrono::day(static_cast<unsigned>(number(8, 2))))
               .ok();
  }
  return good ? std::string() : "there is no day " + text;
}

std::string unknown_verb_hint(int argc, const char* const* argv) {
  if (argc < 2 || argv[1][0] == '-') return {};
  std::vector<std::string_view> names;
  for (const Verb& verb : verbs) names.push_back(verb.name);
  if (std::find(names.begin(), names.end(), argv[1]) != names.end()) return {};
  const std::string near = nearest_name(argv[1], names);
  return fmt::format("there is no verb \"{}\"{}", printable(argv[1]),
                     near.empty() ? "; see matchmark --help" : fmt::format("; did you mean \"{}\"?", near));
}

}  // namespace

void declare_reading(Arguments& verb, Options& options) {
  verb.repeatable("--rules", "DIR", options.rule_folders,
                  "a further folder that \"use\" may read; repeatable", missing_folder);
  declare_limits(verb, options);
}

void declare_limits(Arguments& verb, Options& options) {
  verb.number("--max-errors", options.max_errors, "errors shown at most (usually 100)");
  verb.number("--max-nesting", options.max_nesting, "levels of brackets and blocks (usually 100)");
  verb.number("--max-file-size", options.max_file_megabytes, "megabytes of one file (usually 64)");
  verb.number("--max-memory", options.max_megabytes, "megabytes of memory (usually 450)");
  verb.number("--max-seconds", options.max_seconds, "seconds of processor time (usually 120)");
}

void declare_form(Arguments& verb, Options& options) {
  verb.flag("--json", options.json, "machine-readable report; see \"matchmark schema\"");
  verb.one_of("--color", "WHEN", options.colour, "colour: auto, always or never",
              {"auto", "always", "never"});
}

void declare_report(Arguments& verb, Options& options) {
  verb.needed("FILE", options.file, "the file with the build");
  declare_reading(verb, options);
  verb.text("--build", "NAME", options.build, "only the build of this name");
  declare_form(verb, options);
  verb.number("--max-matches", options.max_matches, "combinations a rule may look at (usually 1000000)");
  verb.number("--max-pieces", options.max_pieces, "pieces a verdict may look at (usually 4000)");
  verb.number("--max-combinations", options.max_combinations,
              "combinations of candidates tried (usually 256)");
  verb.number("--max-work", options.max_work, "millions of steps of judging a build (usually 1000)");
  verb.number("--max-choices", options.max_choices, "steps of the search for choices (usually 500000)");
  verb.text("--today", "DATE", options.today, "waivers expire by this date; without it never", wrong_date);
}

int run_command_line(int argc, const char* const* argv) {
  if (const std::string hint = unknown_verb_hint(argc, argv); !hint.empty()) {
    complain(hint);
    return static_cast<int>(Status::wrong_use);
  }
  Options options;
  std::vector<VerbArguments> declared;
  for (const Verb& verb : verbs)
    declared.push_back(
        {verb.name, verb.about, [&](Arguments& arguments) { verb.declare(arguments, options); }});
  const ParsedLine line =
      parse_line(argc, argv, declared, "matchmark: do these parts fit together, and if not, why?",
                 "matchmark " MATCHMARK_VERSION, footer);
  if (!line.wrong.empty()) {
    complain(fmt::format("{}; see matchmark --help", printable(line.wrong)));
    return static_cast<int>(Status::wrong_use);
  }
  if (!line.answer.empty()) return write_out(line.answer) ? 0 : static_cast<int>(Status::wrong_use);
  limit_time_and_memory(options.max_seconds, options.max_megabytes);
  return static_cast<int>(verbs[line.verb].run(options));
}

}  // namespace mm

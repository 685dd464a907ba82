#include "app/verbs.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <chrono>
#include <filesystem>
#include <vector>

#include "app/output.hpp"
#include "base/near_miss.hpp"
#include "messages/message.hpp"

namespace mm {

namespace {

constexpr Verb verbs[] = {
    {"check", "judge a build: what fits, conflicts or is unknown", declare_check, run_check},
    {"why", "the reasons of one verdict", declare_why, run_why},
    {"trial", "run the trials that rule files carry", declare_trial, run_trial},
    {"list", "what the rules offer: kinds, faces, attributes, how to measure", declare_list, run_list},
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

std::string valid_date(const std::string& text) {
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

void declare_reading(CLI::App& verb, Options& options) {
  verb.add_option("--rules", options.rule_folders, "a further folder that \"use\" may read; repeatable")
      ->type_name("DIR")
      ->check(CLI::Validator(
          [](const std::string& folder) {
            std::error_code error;
            return std::filesystem::is_directory(folder, error)
                       ? std::string()
                       : "there is no folder \"" + printable(folder) + "\"";
          },
          "", "folder"))
      ->allow_extra_args(false);
  verb.add_option("--max-errors", options.max_errors, "errors shown at most (usually 100)")->type_name("N");
}

void declare_form(CLI::App& verb, Options& options) {
  verb.add_flag("--json", options.json, "machine-readable report; see \"matchmark schema\"");
  verb.add_option("--color", options.colour, "colour: auto, always or never")
      ->type_name("WHEN")
      ->check(CLI::Validator(CLI::IsMember({"auto", "always", "never"})).description(""));
}

void declare_report(CLI::App& verb, Options& options) {
  verb.add_option("FILE", options.file, "the file with the build")->required()->type_name("");
  declare_reading(verb, options);
  verb.add_option("--build", options.build, "only the build of this name")->type_name("NAME");
  declare_form(verb, options);
  verb.add_option("--max-matches", options.max_matches,
                  "combinations of parts that one rule looks at (usually 1000000)")
      ->type_name("N");
  verb.add_option("--today", options.today, "waivers expire by this date; without it never")
      ->type_name("DATE")
      ->check(CLI::Validator([](const std::string& text) { return valid_date(text); }, "", "date"));
}

int run_command_line(int argc, const char* const* argv) {
  if (const std::string hint = unknown_verb_hint(argc, argv); !hint.empty()) {
    complain(hint);
    return static_cast<int>(Status::wrong_use);
  }
  CLI::App app("matchmark: do these parts fit together, and if not, why?", "matchmark");
  app.footer(footer);
  app.set_version_flag("--version", "matchmark " MATCHMARK_VERSION);
  app.set_help_flag("-h,--help", "this page");
  app.require_subcommand(1);
  app.get_formatter()->column_width(26);
  Options options;
  const Verb* chosen = nullptr;
  for (const Verb& verb : verbs) {
    CLI::App* sub = app.add_subcommand(std::string(verb.name), std::string(verb.about));
    sub->set_help_flag("-h,--help", "this page");
    verb.declare(*sub, options);
    sub->callback([&chosen, &verb] { chosen = &verb; });
  }
  try {
    app.parse(argc, argv);
  } catch (const CLI::CallForHelp&) {
    return write_out(app.help()) ? 0 : static_cast<int>(Status::wrong_use);
  } catch (const CLI::CallForVersion&) {
    return write_out("matchmark " MATCHMARK_VERSION "\n") ? 0 : static_cast<int>(Status::wrong_use);
  } catch (const CLI::Error& error) {
    complain(fmt::format("{}; see matchmark --help", printable(error.what())));
    return static_cast<int>(Status::wrong_use);
  }
  return static_cast<int>(chosen->run(options));
}

}  // namespace mm

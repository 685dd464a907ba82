#include "app/arguments.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>

namespace mm {

namespace {

CLI::Validator validator(const TextCheck& check) {
  return CLI::Validator([check](const std::string& text) { return check(text); }, "", "text");
}

}  // namespace

void Arguments::needed(const char* name, std::string& into, const char* about) {
  verb_->add_option(name, into, about)->required()->type_name("");
}

void Arguments::needed(const char* name, std::vector<std::string>& into, const char* about, int exactly) {
  CLI::Option* option = verb_->add_option(name, into, about)->required()->type_name("");
  if (exactly != 0) option->expected(exactly);
}

void Arguments::words(const char* name, std::vector<std::string>& into, const char* about) {
  verb_->add_option(name, into, about)->type_name("");
}

void Arguments::flag(const char* name, bool& into, const char* about) { verb_->add_flag(name, into, about); }

/// Also keeps what does not fit in a number from being cut off.
void Arguments::number(const char* name, std::size_t& into, const char* about) {
  const auto check = [](const std::string& text) {
    const bool digits = !text.empty() && text.size() <= 18 && text[0] != '0' &&
                        std::all_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; });
    return digits ? std::string() : "a whole number is wanted, 1 or more, not \"" + text + "\"";
  };
  verb_->add_option(name, into, about)->type_name("N")->check(validator(check));
}

void Arguments::text(const char* name, const char* shown, std::string& into, const char* about,
                     const TextCheck& check) {
  CLI::Option* option = verb_->add_option(name, into, about)->type_name(shown);
  if (check) option->check(validator(check));
}

void Arguments::one_of(const char* name, const char* shown, std::string& into, const char* about,
                       std::vector<std::string> choices) {
  const auto check = [choices = std::move(choices)](const std::string& text) {
    if (std::find(choices.begin(), choices.end(), text) != choices.end()) return std::string();
    std::string known;
    for (std::size_t i = 0; i < choices.size(); ++i)
      known += (i == 0 ? "" : i + 1 == choices.size() ? " or " : ", ") + choices[i];
    return known + " is wanted, not \"" + text + "\"";
  };
  verb_->add_option(name, into, about)->type_name(shown)->check(validator(check));
}

void Arguments::repeatable(const char* name, const char* shown, std::vector<std::string>& into,
                           const char* about, const TextCheck& check) {
  verb_->add_option(name, into, about)->type_name(shown)->check(validator(check))->allow_extra_args(false);
}

ParsedLine parse_line(int argc, const char* const* argv, const std::vector<VerbArguments>& verbs,
                      const char* about, const char* version, const char* footer) {
  CLI::App app(about, "matchmark");
  app.footer(footer);
  app.set_version_flag("--version", version);
  app.set_help_flag("-h,--help", "this page");
  app.require_subcommand(1);
  app.get_formatter()->column_width(26);
  ParsedLine line;
  const bool named = argc > 1 && std::any_of(verbs.begin(), verbs.end(),
                                             [&](const VerbArguments& verb) { return verb.name == argv[1]; });
  for (std::size_t i = 0; i < verbs.size(); ++i) {
    CLI::App* verb = app.add_subcommand(std::string(verbs[i].name), std::string(verbs[i].about));
    verb->set_help_flag("-h,--help", "this page");
    if (named && verbs[i].name != argv[1]) continue;  // the options of one verb are enough
    Arguments arguments(*verb);
    verbs[i].declare(arguments);
    verb->callback([&line, i] { line.verb = i; });
  }
  try {
    app.parse(argc, argv);
  } catch (const CLI::CallForHelp&) {
    line.answer = app.help();
  } catch (const CLI::CallForVersion&) {
    line.answer = std::string(version) + "\n";
  } catch (const CLI::Error& error) {
    line.wrong = error.what();
  }
  return line;
}

}  // namespace mm

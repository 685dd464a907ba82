// The verbs of the command line. A new verb is one file with such a function, and one row in verbs.cpp.
#pragma once
#include <string_view>

#include "app/arguments.hpp"
#include "app/options.hpp"

namespace mm {

struct Verb {
  std::string_view name, about;
  void (*declare)(Arguments& verb, Options& options);  // its options and arguments
  Status (*run)(const Options& options);
};

void declare_check(Arguments& verb, Options& options);
Status run_check(const Options& options);
void declare_why(Arguments& verb, Options& options);
Status run_why(const Options& options);
void declare_trial(Arguments& verb, Options& options);
Status run_trial(const Options& options);
void declare_tidy(Arguments& verb, Options& options);
Status run_tidy(const Options& options);
void declare_list(Arguments& verb, Options& options);
Status run_list(const Options& options);
void declare_schema(Arguments& verb, Options& options);
Status run_schema(const Options& options);

/// Options that several verbs share.
void declare_limits(Arguments& verb, Options& options);   // --max-errors and its like
void declare_reading(Arguments& verb, Options& options);  // --rules and the limits
void declare_form(Arguments& verb, Options& options);     // --json --color
void declare_report(Arguments& verb,
                    Options& options);  // FILE, --build, --today, what judging may take, and both above

/// Parses the command line, runs the verb, and returns the exit status.
int run_command_line(int argc, const char* const* argv);

}  // namespace mm

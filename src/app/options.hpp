// What the command line asked for.
#pragma once
#include <cstdint>
#include <string>
#include <vector>

namespace mm {

/// The exit statuses; --help lists them.
enum class Status : int { fits = 0, conflict = 1, open = 2, text_wrong = 3, wrong_use = 4 };

struct Options {
  std::string file;                // check, why
  std::vector<std::string> files;  // trial, tidy
  std::vector<std::string> rule_folders;
  std::string build;  // only this build
  std::string today;  // "2026-03-14"
  std::string colour = "auto";
  bool all = false;
  bool json = false;
  bool used = false;               // trial: those of used files too
  bool write = false;              // tidy
  bool check = false;              // tidy
  std::vector<std::string> words;  // why: REQUIREMENT [on SUBJECT]; schema: NAME
  std::size_t max_errors = 100;
  std::size_t max_matches = 1'000'000;
};

}  // namespace mm

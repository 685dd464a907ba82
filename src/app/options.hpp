// What the command line asked for.
#pragma once
#include <cstdint>
#include <string>
#include <vector>

namespace mm {

/// The exit statuses; --help lists them.
enum class Status : int { fits = 0, conflict = 1, open = 2, text_wrong = 3, wrong_use = 4 };

struct Options {
  std::string file;                // check, why, list
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
  std::vector<std::string> words;  // why: REQUIREMENT [on SUBJECT]; schema: REPORT; list: NAME ...
  std::size_t max_errors = 100;
  std::size_t max_matches = 1'000'000;
  std::size_t max_pieces = 4'000;
  std::size_t max_combinations = 256;
  std::size_t max_choices = 500'000;
  std::size_t max_work = 1'000;  // millions of steps
  std::size_t max_nesting = 100;
  std::size_t max_file_megabytes = 64;
  std::size_t max_megabytes = 0;  // of memory; 0: by the length of the text
  std::size_t max_seconds = 120;  // of processor time

  std::size_t max_file_bytes() const {  // places in a text are counted in 32 bits
    return (max_file_megabytes < 4000 ? max_file_megabytes : 4000) << 20U;
  }
};

}  // namespace mm

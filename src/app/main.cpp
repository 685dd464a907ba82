#include <csignal>
#include <cstdio>
#include <exception>

#include "app/large_pages.hpp"
#include "app/limits.hpp"
#include "app/replace_file.hpp"
#include "app/verbs.hpp"

namespace {

int run(int argc, const char* const* argv) {
  try {
    return mm::run_command_line(argc, argv);
  } catch (const std::bad_alloc&) {
    std::fputs("matchmark: out of memory\n", stderr);
  } catch (const std::exception& error) {
    std::fprintf(stderr, "matchmark: fault in the program: %s\n", error.what());
  }
  return 4;
}

}  // namespace

int main(int argc, char** argv) {
  // a closed pipe and a file that may not grow are then errors of write, with a message, and no silent end
  std::signal(SIGPIPE, SIG_IGN);
  std::signal(SIGXFSZ, SIG_IGN);
  mm::end_cleanly_when_interrupted();
  mm::ask_for_large_pages();
  mm::on_much_text(mm::ask_for_small_pages);
  return mm::on_large_stack([&] { return run(argc, argv); });
}

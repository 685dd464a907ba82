#include <csignal>
#include <cstdio>
#include <exception>

#include "app/verbs.hpp"

int main(int argc, char** argv) {
  // a closed pipe is then an error of write, with a message, and not a silent end
  std::signal(SIGPIPE, SIG_IGN);
  try {
    return mm::run_command_line(argc, argv);
  } catch (const std::bad_alloc&) {
    std::fputs("matchmark: out of memory\n", stderr);
  } catch (const std::exception& error) {
    std::fprintf(stderr, "matchmark: fault in the program: %s\n", error.what());
  }
  return 4;
}

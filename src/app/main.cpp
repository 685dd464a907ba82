#include <csignal>
#include <cstdio>
#include <exception>

#include "app/limits.hpp"
#include "app/replace_file.hpp"
#include "app/verbs.hpp"

#ifdef MATCHMARK_MIMALLOC
#include <mimalloc.h>
#endif

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

/// Pages of 2 MB from the start, where the system gives them: a check fills some 5 MB, and a thousand small
/// pages, each asked for when first touched, take an eighth of its time.
void ask_for_large_pages() {
#ifdef MATCHMARK_MIMALLOC
  mi_option_set(mi_option_large_os_pages, 1);
  mi_option_set(mi_option_eager_commit_delay, 0);
#endif
}

}  // namespace

int main(int argc, char** argv) {
  // a closed pipe and a file that may not grow are then errors of write, with a message, and no silent end
  std::signal(SIGPIPE, SIG_IGN);
  std::signal(SIGXFSZ, SIG_IGN);
  mm::end_cleanly_when_interrupted();
  ask_for_large_pages();
  return mm::on_large_stack([&] { return run(argc, argv); });
}

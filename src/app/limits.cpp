// A timer of processor time looks every few milliseconds at what the run has used. The memory is the part
// that is really held: allocators reserve much that they never fill, so a limit of the system on addresses
// would end runs that are small.
#include "app/limits.hpp"

#include <fcntl.h>
#include <gmp.h>
#include <mpfr.h>
#include <sys/resource.h>
#include <sys/time.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <cerrno>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <new>

#include "app/replace_file.hpp"
#include "base/large_thread.hpp"

/// Of the allocator mimalloc, where that is linked: it ends the program, unless somebody asks to be told.
extern "C" __attribute__((weak)) void mi_register_error(void (*told)(int error, void* passed), void* passed);

namespace mm {

namespace {

#if defined(__SANITIZE_ADDRESS__)
constexpr bool sanitized = true;
#elif defined(__has_feature)
#if __has_feature(address_sanitizer) || __has_feature(memory_sanitizer)
constexpr bool sanitized = true;
#else
constexpr bool sanitized = false;
#endif
#else
constexpr bool sanitized = false;
#endif

constexpr std::size_t megabyte = 1U << 20U;
constexpr std::size_t usual_megabytes = 450;
constexpr std::size_t bytes_a_text_byte = 50;
constexpr std::size_t much_text = 2 * megabyte;
constexpr suseconds_t look_every = 10'000;  // microseconds

std::atomic<std::size_t> most_seconds{0}, most_megabytes{0};
void (*tell_of_much_text)() = nullptr;
// Written beforehand, because nothing may be allocated where they are needed.
std::array<char, 160> too_slow{}, too_large{};

/// Of this process, now: its peak is taken over from whoever started it.
std::size_t megabytes_held() {
  const int file = ::open("/proc/self/statm", O_RDONLY | O_CLOEXEC);
  if (file < 0) return 0;
  std::array<char, 128> text{};
  const ssize_t size = ::read(file, text.data(), text.size() - 1);
  ::close(file);
  std::size_t i = 0, pages = 0;
  const auto end = static_cast<std::size_t>(std::max<ssize_t>(size, 0));
  while (i < end && text[i] != ' ') ++i;  // the second number
  for (++i; i < end && text[i] >= '0' && text[i] <= '9'; ++i)
    pages = 10 * pages + static_cast<std::size_t>(text[i] - '0');
  return pages * static_cast<std::size_t>(::sysconf(_SC_PAGESIZE)) / megabyte;
}

void look(int /*signal*/) {
  const int error = errno;
  rusage used{};
  ::getrusage(RUSAGE_SELF, &used);
  if (static_cast<std::size_t>(used.ru_utime.tv_sec + used.ru_stime.tv_sec) >= most_seconds)
    abandon(too_slow.data(), Status::wrong_use);
  const bool was_large = static_cast<std::size_t>(used.ru_maxrss) * 1024 / megabyte > most_megabytes;
  if (was_large && !sanitized && megabytes_held() > most_megabytes)
    abandon(too_large.data(), Status::wrong_use);
  errno = error;
}

[[noreturn]] void none_left() { abandon("matchmark: out of memory\n", Status::wrong_use); }

void* made(void* memory) {
  if (memory == nullptr) none_left();
  return memory;
}

}  // namespace

int on_large_stack(const std::function<int()>& run) {
  int status = 0;
  LargeThread thread(
      [&] {
        status = run();
        mpfr_free_cache();  // this thread's constants
      },
      LargeThread::Signals::follow);
  if (!thread.started()) return run();
  thread.join();
  return status;
}

void limit_memory(std::size_t megabytes, std::size_t text_bytes) {
  if (megabytes == 0) megabytes = std::max(usual_megabytes, text_bytes * bytes_a_text_byte / megabyte);
  std::snprintf(too_large.data(), too_large.size(),
                "matchmark: this needs more than %zu MB of memory; allow more with --max-memory\n",
                megabytes);
  most_megabytes = megabytes;
  if (text_bytes > much_text && tell_of_much_text != nullptr) tell_of_much_text();
}

void on_much_text(void (*tell)()) { tell_of_much_text = tell; }

void limit_time_and_memory(std::size_t seconds, std::size_t megabytes) {
  std::set_new_handler(none_left);
  if (mi_register_error != nullptr) {
    mi_register_error(
        [](int error, void*) {
          if (error == ENOMEM) none_left();
        },
        nullptr);
  } else {
    mp_set_memory_functions(
        [](std::size_t size) { return made(std::malloc(size)); },
        [](void* old, std::size_t, std::size_t size) { return made(std::realloc(old, size)); },
        [](void* old, std::size_t) { std::free(old); });
  }
  limit_memory(megabytes, 0);
  std::snprintf(too_slow.data(), too_slow.size(),
                "matchmark: not done after %zu s of processor time; allow more with --max-seconds\n",
                seconds);
  most_seconds = seconds;
  struct sigaction action = {};
  action.sa_handler = look;
  action.sa_flags = SA_RESTART;
  ::sigaction(SIGPROF, &action, nullptr);
  const itimerval timer{{0, look_every}, {0, look_every}};
  ::setitimer(ITIMER_PROF, &timer, nullptr);
}

}  // namespace mm

// The file that is written beside the other one is known to the handlers of signals, which remove it. Signals
// wait while it comes into being and while it takes the other's place: at every other moment a handler finds
// either a name to remove or nothing to do.
#include "app/replace_file.hpp"

#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <climits>
#include <csignal>
#include <cstdlib>
#include <cstring>
#include <filesystem>

#include "app/output.hpp"
#include "messages/message.hpp"
#include "text/read_file.hpp"

namespace mm {

namespace {

constexpr std::array interrupts{SIGINT, SIGTERM, SIGHUP};

std::array<char, PATH_MAX> beside{};  // its name; "" when there is none

void remove_beside() {
  if (beside[0] != '\0') (void)::unlink(beside.data());
}

void say(std::string_view text) { (void)!::write(STDERR_FILENO, text.data(), text.size()); }

void interrupted(int signal) {
  remove_beside();
  say(beside[0] == '\0' ? "matchmark: interrupted\n"
                        : "matchmark: interrupted; the file under way was left as it was\n");
  (void)::raise(signal);  // with its usual effect, and not held back: see end_cleanly_when_interrupted
}

/// Signals wait while this lives.
class Undisturbed {
 public:
  Undisturbed() {
    sigset_t all;
    sigfillset(&all);
    ::sigprocmask(SIG_BLOCK, &all, &former_);
  }
  Undisturbed(const Undisturbed&) = delete;
  Undisturbed& operator=(const Undisturbed&) = delete;
  ~Undisturbed() { ::sigprocmask(SIG_SETMASK, &former_, nullptr); }

 private:
  sigset_t former_{};
};

/// A new file beside `target`, with its owner and rights, for writing; -1 and errno when there can be none.
int open_beside(const std::string& target) {
  const std::string name = target + ".XXXXXX";
  if (name.size() >= beside.size()) {
    errno = ENAMETOOLONG;
    return -1;
  }
  const Undisturbed undisturbed;
  std::memcpy(beside.data(), name.c_str(), name.size() + 1);
  const int file = ::mkstemp(beside.data());
  if (file < 0) {
    beside[0] = '\0';
    return file;
  }
  struct stat former = {};
  if (::stat(target.c_str(), &former) == 0) {
    (void)!::fchown(file, former.st_uid, former.st_gid);
    (void)::fchmod(file, former.st_mode & 07777);
  }
  return file;
}

/// Why the file no longer is what it was; "" when it is.
std::string changed(const std::string& target, std::string_view former) {
  const ReadResult now = read_file(target, former.size());
  if (now.problem == ReadProblem::missing) return "it is gone";
  if (now.problem == ReadProblem::unreadable) return now.reason;
  return now.problem == ReadProblem::none && now.bytes == former ? "" : "it was changed meanwhile";
}

/// Empty when all is well, and the reason when it is not.
std::string write_and_rename(int file, const std::string& target, std::string_view former,
                             std::string_view text) {
  const bool written = write_all(file, text) && ::fsync(file) == 0;
  const int cause = errno;
  if (::close(file) != 0 && written) return std::strerror(errno);
  if (!written) return std::strerror(cause);
  const Undisturbed undisturbed;
  if (std::string why = changed(target, former); !why.empty()) return why;
  if (::rename(beside.data(), target.c_str()) != 0) return std::strerror(errno);
  beside[0] = '\0';
  return {};
}

}  // namespace

bool replace_file(const std::string& path, std::string_view former, std::string_view text) {
  std::error_code error;
  // a link is followed, so that the file it names is replaced and not the link
  std::filesystem::path target = std::filesystem::canonical(path, error);
  if (error) target = path;
  std::string why;
  if (::access(target.c_str(), W_OK) != 0) why = std::strerror(errno);
  if (why.empty()) {
    const int file = open_beside(target.string());
    why = file < 0 ? fmt::format("no file can be made beside it: {}", std::strerror(errno))
                   : write_and_rename(file, target.string(), former, text);
  }
  if (why.empty()) return true;
  {
    const Undisturbed undisturbed;
    remove_beside();
    beside[0] = '\0';
  }
  complain(fmt::format("cannot write \"{}\": {}; nothing was changed", printable(path), why));
  return false;
}

void end_cleanly_when_interrupted() {
  for (const int signal : interrupts) {
    struct sigaction former = {};
    if (::sigaction(signal, nullptr, &former) != 0 || former.sa_handler == SIG_IGN) continue;
    struct sigaction action = {};
    action.sa_handler = interrupted;
    action.sa_flags = static_cast<int>(SA_RESETHAND) | SA_NODEFER;
    (void)::sigaction(signal, &action, nullptr);
  }
}

void abandon(const char* text, Status status) {
  remove_beside();
  say(text);
  ::_exit(static_cast<int>(status));
}

}  // namespace mm

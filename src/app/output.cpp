#include "app/output.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <filesystem>

#include "messages/message.hpp"

namespace mm {

namespace {

bool write_all(int file, std::string_view text) {
  while (!text.empty()) {
    const ssize_t written = ::write(file, text.data(), text.size());
    if (written < 0) {
      if (errno == EINTR) continue;
      return false;
    }
    text.remove_prefix(static_cast<std::size_t>(written));
  }
  return true;
}

}  // namespace

bool write_out(std::string_view text) {
  if (write_all(STDOUT_FILENO, text)) return true;
  const int cause = errno;
  complain(fmt::format("cannot write the report: {}", std::strerror(cause)));
  return false;
}

void complain(std::string_view text) { write_error(fmt::format("matchmark: {}\n", text)); }

void write_error(std::string_view text) { (void)write_all(STDERR_FILENO, text); }

void end_quickly([[maybe_unused]] Status status) {
#ifdef NDEBUG
  std::_Exit(static_cast<int>(status));
#endif
}

bool wants_colour(const std::string& choice) {
  if (choice == "always") return true;
  if (choice == "never") return false;
  const char* refused = std::getenv("NO_COLOR");
  if (refused != nullptr && *refused != '\0') return false;
  const char* terminal = std::getenv("TERM");
  if (terminal != nullptr && std::string_view(terminal) == "dumb") return false;
  return ::isatty(STDOUT_FILENO) == 1;
}

bool replace_file(const std::string& path, std::string_view text) {
  std::error_code error;
  // a link is followed, so that the file it names is replaced and not the link
  std::filesystem::path target = std::filesystem::canonical(path, error);
  if (error) target = path;
  std::string beside = target.string() + ".XXXXXX";
  const int file = ::mkstemp(beside.data());
  if (file < 0) {
    complain(fmt::format("cannot write beside \"{}\": {}", printable(path), std::strerror(errno)));
    return false;
  }
  struct stat former {};
  if (::stat(target.c_str(), &former) == 0) (void)::fchmod(file, former.st_mode & 07777);
  const bool written = write_all(file, text) && ::fsync(file) == 0;
  int cause = errno;
  const bool closed = ::close(file) == 0;
  if (written && !closed) cause = errno;
  if (written && closed && ::rename(beside.c_str(), target.c_str()) == 0) return true;
  if (written && closed) cause = errno;
  ::unlink(beside.c_str());
  complain(
      fmt::format("cannot write \"{}\": {}; it was left as it was", printable(path), std::strerror(cause)));
  return false;
}

}  // namespace mm

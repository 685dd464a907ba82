#include "text/read_file.hpp"

#include <fcntl.h>
#include <linux/openat2.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdint>
#include <cstring>
#include <system_error>

namespace mm {

namespace {

class Descriptor {
 public:
  explicit Descriptor(int fd) : fd_(fd) {}
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  ~Descriptor() {
    if (fd_ >= 0) close(fd_);
  }
  int get() const { return fd_; }

 private:
  int fd_;
};

int opened(const char* path, Links links) {
  constexpr int flags = O_RDONLY | O_NONBLOCK | O_CLOEXEC | O_NOCTTY;
  if (links == Links::follow) return open(path, flags);
  open_how how = {};
  how.flags = flags;
  how.resolve = RESOLVE_NO_SYMLINKS;
  const long file = syscall(SYS_openat2, AT_FDCWD, path, &how, sizeof how);
  if (file < 0 && (errno == ENOSYS || errno == EPERM))
    return open(path, flags | O_NOFOLLOW);  // before Linux 5.6
  return static_cast<int>(file);
}

ReadResult problem(int error, Links links) {
  if (error == ELOOP && links == Links::refuse)
    return {ReadProblem::unreadable, {}, "there is a link on the way to it now"};
  if (error == ENOENT || error == ENOTDIR) return {ReadProblem::missing, {}, {}};
  return {ReadProblem::unreadable, {}, std::generic_category().message(error)};
}

}  // namespace

ReadResult read_file(const std::string& path, std::size_t max_bytes, Links links) {
  const Descriptor file(opened(path.c_str(), links));
  if (file.get() < 0)
    return errno == ENXIO ? ReadResult{ReadProblem::not_regular, {}, {}} : problem(errno, links);
  struct stat status = {};
  if (fstat(file.get(), &status) != 0) return problem(errno, links);
  if (S_ISDIR(status.st_mode)) return {ReadProblem::folder, {}, {}};
  if (!S_ISREG(status.st_mode)) return {ReadProblem::not_regular, {}, {}};
  if (static_cast<unsigned long long>(status.st_size) > max_bytes) return {ReadProblem::too_large, {}, {}};
  // one byte more than the file says it holds, so that its end is seen without asking for more room
  std::string bytes(static_cast<std::size_t>(status.st_size) + 1, '\0');
  std::size_t size = 0;
  while (true) {
    if (size == bytes.size()) bytes.resize(2 * bytes.size());
    const ssize_t got = read(file.get(), bytes.data() + size, bytes.size() - size);
    if (got == 0) break;
    if (got < 0) {
      if (errno == EINTR) continue;
      return problem(errno, links);
    }
    size += static_cast<std::size_t>(got);
    if (size > max_bytes) return {ReadProblem::too_large, {}, {}};
    if (size == static_cast<std::size_t>(status.st_size)) break;  // and it gave less than was asked for
  }
  bytes.resize(size);
  return {ReadProblem::none, std::move(bytes), {}};
}

std::optional<std::size_t> first_invalid_utf8(std::string_view bytes) {
  const auto at = [&](std::size_t i) { return static_cast<unsigned char>(bytes[i]); };
  for (std::size_t i = 0; i < bytes.size();) {
    const unsigned char first = at(i);
    if (first < 0x80) {
      ++i;
      constexpr std::uint64_t high_bits = 0x8080808080808080U;
      for (std::uint64_t eight = 0; bytes.size() - i >= sizeof eight; i += sizeof eight) {
        std::memcpy(&eight, bytes.data() + i, sizeof eight);
        if ((eight & high_bits) != 0) break;
      }
      continue;
    }
    const std::size_t length = first >= 0xC2 && first < 0xE0   ? 2
                               : first >= 0xE0 && first < 0xF0 ? 3
                               : first >= 0xF0 && first < 0xF5 ? 4
                                                               : 0;
    if (length == 0 || bytes.size() - i < length) return i;
    unsigned char least = 0x80, most = 0xBF;  // of the second byte
    if (first == 0xE0) least = 0xA0;
    if (first == 0xED) most = 0x9F;
    if (first == 0xF0) least = 0x90;
    if (first == 0xF4) most = 0x8F;
    if (at(i + 1) < least || at(i + 1) > most) return i;
    for (std::size_t k = 2; k < length; ++k)
      if (at(i + k) < 0x80 || at(i + k) > 0xBF) return i;
    i += length;
  }
  return std::nullopt;
}

}  // namespace mm

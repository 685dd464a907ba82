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

#include "base/utf8.hpp"

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
  for (std::size_t i = 0; i < bytes.size();) {
    const Utf8Character here = front_character(bytes.substr(i));
    if (here.length == 0) return i;
    i += here.length;
    if (here.length > 1) continue;
    constexpr std::uint64_t high_bits = 0x8080808080808080U;
    for (std::uint64_t eight = 0; bytes.size() - i >= sizeof eight; i += sizeof eight) {
      std::memcpy(&eight, bytes.data() + i, sizeof eight);
      if ((eight & high_bits) != 0) break;
    }
  }
  return std::nullopt;
}

}  // namespace mm

#include "app/output.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <string>

#include "report/page.hpp"

namespace mm {

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

bool write_out(std::string_view text) {
  if (write_all(STDOUT_FILENO, text)) return true;
  const int cause = errno;
  complain(fmt::format("cannot write the report: {}", std::strerror(cause)));
  return false;
}

bool write_out(const std::deque<std::string>& pieces) {
  return std::all_of(pieces.begin(), pieces.end(), [](const std::string& piece) { return write_out(piece); });
}

void complain(std::string_view text) { write_error(wrapped("matchmark: " + std::string(text), 0)); }

void write_error(std::string_view text) { (void)write_all(STDERR_FILENO, text); }

void write_messages(const Messages& messages, const Sources& sources, std::size_t limit) {
  std::size_t dropped = 0;
  std::string out;
  for (const Message& message : messages.sorted(limit, &dropped)) out += render(message, sources);
  if (dropped != 0) out += fmt::format("matchmark: and {}\n", counted(dropped, "more message"));
  if (!out.empty()) write_error(out);
}

void end_quickly([[maybe_unused]] Status status) {
#ifdef NDEBUG
  std::_Exit(static_cast<int>(status));
#endif
}

bool writes_to_terminal() { return ::isatty(STDOUT_FILENO) == 1; }

bool wants_colour(const std::string& choice) {
  if (choice == "always") return true;
  if (choice == "never") return false;
  const char* refused = std::getenv("NO_COLOR");
  if (refused != nullptr && *refused != '\0') return false;
  const char* terminal = std::getenv("TERM");
  if (terminal != nullptr && std::string_view(terminal) == "dumb") return false;
  return writes_to_terminal();
}

}  // namespace mm

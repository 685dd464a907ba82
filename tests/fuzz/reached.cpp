// What the tests reach of the program. Clang counts every block of this build for the fuzzer; in a program
// that is no fuzz target nobody reads those counters, so this file does. At the end of a process it marks
// what was reached in a file that all runs of the program share, $REACHED/PROGRAM: a word a block, its
// address times two, plus one when reached. tests/lib/coverage.py makes a figure of it. What a signal ends
// leaves no marks.
#include <fcntl.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>

extern "C" {
extern const char __ehdr_start;  // where the program was loaded; the linker's name

// Clang's names, see its page on SanitizerCoverage: inline-8bit-counters and pc-table.
void __sanitizer_cov_8bit_counters_init(const std::uint8_t* begin, const std::uint8_t* end);
void __sanitizer_cov_pcs_init(const std::uintptr_t* begin, const std::uintptr_t* end);
}

namespace {

using Word = std::atomic<std::uint64_t>;
static_assert(Word::is_always_lock_free && sizeof(Word) == sizeof(std::uint64_t));

const std::uint8_t* counters = nullptr;
std::size_t blocks = 0;
const std::uintptr_t* addresses = nullptr;  // of block i: addresses[2 * i]; what kind it is stands beside it

/// The words of all blocks, shared with other processes; nullptr where nobody asked or there can be no file.
Word* shared_words() {
  const char* folder = std::getenv("REACHED");
  if (folder == nullptr || blocks == 0 || addresses == nullptr) return nullptr;
  const std::string name = std::string(folder) + "/" + program_invocation_short_name;
  const int file = ::open(name.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0666);
  if (file < 0) return nullptr;
  const std::size_t size = blocks * sizeof(Word);
  struct stat now = {};
  void* words = MAP_FAILED;
  if (::fstat(file, &now) == 0 &&
      (static_cast<std::size_t>(now.st_size) == size || ::ftruncate(file, static_cast<off_t>(size)) == 0))
    words = ::mmap(nullptr, size, PROT_READ | PROT_WRITE, MAP_SHARED, file, 0);
  (void)::close(file);
  return words == MAP_FAILED ? nullptr : static_cast<Word*>(words);
}

[[gnu::destructor]] void mark_reached() {
  Word* words = shared_words();
  if (words == nullptr) return;
  const auto start = reinterpret_cast<std::uintptr_t>(&__ehdr_start);
  for (std::size_t i = 0; i < blocks; ++i) {
    const std::uint64_t word = (addresses[2 * i] - start) << 1 | (counters[i] != 0 ? 1 : 0);
    if ((words[i].load(std::memory_order_relaxed) | word) != words[i].load(std::memory_order_relaxed))
      words[i].fetch_or(word, std::memory_order_relaxed);
  }
}

}  // namespace

void __sanitizer_cov_8bit_counters_init(const std::uint8_t* begin, const std::uint8_t* end) {
  counters = begin;
  blocks = static_cast<std::size_t>(end - begin);
}

void __sanitizer_cov_pcs_init(const std::uintptr_t* begin, const std::uintptr_t*) { addresses = begin; }

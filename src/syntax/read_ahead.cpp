#include "syntax/read_ahead.hpp"

#include <algorithm>
#include <list>
#include <mutex>
#include <utility>

#include "syntax/load.hpp"
#include "text/read_file.hpp"

namespace mm {

namespace {

constexpr std::size_t most_bytes = 256U << 10U;  // of a file: taking it into the tree costs a little too
constexpr std::size_t most_ready = 32;           // files that wait for their turn

}  // namespace

struct ReadAhead::Shelf {
  enum class State { waiting, under_way, ready, given_up };
  struct Wanted {
    std::string path;
    State state = State::waiting;
    std::unique_ptr<FileApart> file;
  };

  std::size_t max_file_bytes, max_nesting;
  std::mutex mutex;
  std::list<Wanted> wanted;                       // the next at the back
  std::vector<std::unique_ptr<FileApart>> taken;  // the helper takes them apart
  std::size_t ready = 0;
  bool serving = false;

  auto first_waiting() {
    return std::find_if(wanted.begin(), wanted.end(),
                        [](const Wanted& one) { return one.state == State::waiting; });
  }

  std::unique_ptr<FileApart> read(const std::string& path) const {
    ReadResult result = read_file(path, max_file_bytes, Links::refuse);
    if (result.problem != ReadProblem::none || result.bytes.size() < least_grafted) return nullptr;
    auto file = std::make_unique<FileApart>();
    Messages messages;
    load_text({}, std::move(result.bytes), file->sources, file->names, file->tree, messages, max_nesting);
    return messages.all().empty() ? std::move(file) : nullptr;
  }

  /// The helper's part, until nothing waits. It begins with what is wanted last, so as not to meet the one
  /// who takes.
  void serve() {
    std::unique_lock lock(mutex);
    for (auto next = first_waiting(); next != wanted.end() && ready < most_ready; next = first_waiting()) {
      next->state = State::under_way;
      lock.unlock();
      std::unique_ptr<FileApart> file = read(next->path);
      lock.lock();
      if (next->state == State::given_up) {
        wanted.erase(next);
        continue;
      }
      next->file = std::move(file);
      next->state = State::ready;
      ++ready;
    }
    serving = false;
  }
};

ReadAhead::ReadAhead(Helpers* helpers, std::size_t max_file_bytes, std::size_t max_nesting)
    : helpers_(helpers != nullptr && helpers->size() != 0 ? helpers : nullptr) {
  if (helpers_ == nullptr) return;
  shelf_ = std::make_shared<Shelf>();
  shelf_->max_file_bytes = std::min(max_file_bytes, most_bytes);
  shelf_->max_nesting = max_nesting;
}

ReadAhead::~ReadAhead() {
  if (helpers_ == nullptr) return;
  {
    const std::lock_guard lock(shelf_->mutex);
    shelf_->wanted.remove_if([](const Shelf::Wanted& one) { return one.state == Shelf::State::waiting; });
  }
  helpers_->wait();
}

void ReadAhead::expect(const std::vector<std::string>& paths) {
  if (helpers_ == nullptr || paths.empty()) return;
  {
    const std::lock_guard lock(shelf_->mutex);
    auto& wanted = shelf_->wanted;
    for (auto path = paths.rbegin(); path != paths.rend(); ++path) {
      const bool known = std::any_of(wanted.begin(), wanted.end(),
                                     [&](const Shelf::Wanted& one) { return one.path == *path; });
      if (!known) wanted.push_back({*path, Shelf::State::waiting, nullptr});
    }
    if (std::exchange(shelf_->serving, true)) return;
  }
  helpers_->wait();
  helpers_->start(1, [shelf = shelf_]() -> Helpers::Remains {
    shelf->serve();
    return shelf;
  });
}

FileApart* ReadAhead::take(const std::string& path) {
  if (helpers_ == nullptr) return nullptr;
  const std::lock_guard lock(shelf_->mutex);
  auto& wanted = shelf_->wanted;
  const auto found = std::find_if(wanted.rbegin(), wanted.rend(),
                                  [&](const Shelf::Wanted& one) { return one.path == path; });
  if (found == wanted.rend()) return nullptr;
  const auto one = std::prev(found.base());
  if (one->state == Shelf::State::under_way || one->state == Shelf::State::given_up) {
    one->state = Shelf::State::given_up;  // to read it again is quicker than to sleep
    return nullptr;
  }
  FileApart* file = one->file.get();
  if (one->state == Shelf::State::ready) --shelf_->ready;
  if (file != nullptr) shelf_->taken.push_back(std::move(one->file));
  wanted.erase(one);
  return file;
}

}  // namespace mm

// Threads that wait for work: what they are handed begins at once, and nobody waits for one of them to be
// started, to tidy up or to end.
#pragma once
#include <condition_variable>
#include <cstddef>
#include <deque>
#include <functional>
#include <memory>
#include <mutex>

#include "base/large_thread.hpp"

namespace mm {

/// Of this program: as many as the processors that it may use, up to four.
std::size_t useful_threads();

class Helpers {
 public:
  /// What work leaves behind. The helper takes it apart when its work counts as done already.
  using Remains = std::shared_ptr<void>;

  /// Fewer, or none, where the system gives no more threads.
  explicit Helpers(std::size_t count);
  ~Helpers();
  Helpers(const Helpers&) = delete;
  Helpers& operator=(const Helpers&) = delete;

  std::size_t size() const { return threads_.size(); }
  /// Hands `work`, which must not throw, to `count` of them, at most size(). After it, wait() comes first.
  void start(std::size_t count, std::function<Remains()> work);
  /// Until it is done; who has not begun by now does not begin.
  void wait();

 private:
  void serve();

  std::mutex mutex_;
  std::condition_variable called_, done_;
  std::function<Remains()> work_;
  std::size_t to_begin_ = 0, at_work_ = 0;  // at work: those yet to begin among them
  bool ending_ = false;
  std::deque<LargeThread> threads_;
};

}  // namespace mm

// A thread with room for every depth that the limits on nesting allow. POSIX threads, because std::thread
// cannot say how large its stack is to be.
#pragma once
#include <pthread.h>

#include <csignal>
#include <functional>

namespace mm {

class LargeThread {
 public:
  enum class Signals { stay, follow };  // who is told of a signal: the thread that starts it, or the new one

  /// Runs `run`, which must not throw, beside the caller; where no thread can be had, started() is false and
  /// nothing was run.
  explicit LargeThread(std::function<void()> run, Signals signals = Signals::stay);
  ~LargeThread() { join(); }
  LargeThread(const LargeThread&) = delete;
  LargeThread& operator=(const LargeThread&) = delete;

  bool started() const { return started_; }
  void join();

 private:
  static void* enter(void* self);

  std::function<void()> run_;
  Signals signals_;
  sigset_t before_{};
  pthread_t thread_{};
  bool started_ = false, joined_ = false;
};

}  // namespace mm

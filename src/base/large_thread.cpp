#include "base/large_thread.hpp"

namespace mm {

namespace {

constexpr std::size_t stack_bytes = std::size_t{64} << 20U;  // of addresses; what is not used is not taken

}  // namespace

LargeThread::LargeThread(std::function<void()> run, Signals signals)
    : run_(std::move(run)), signals_(signals) {
  pthread_attr_t attributes;
  if (::pthread_attr_init(&attributes) != 0) return;
  ::pthread_attr_setstacksize(&attributes, stack_bytes);
  sigset_t all;
  sigfillset(&all);
  ::pthread_sigmask(SIG_SETMASK, &all, &before_);
  started_ = ::pthread_create(&thread_, &attributes, enter, this) == 0;
  ::pthread_attr_destroy(&attributes);
  if (!started_ || signals_ == Signals::stay) ::pthread_sigmask(SIG_SETMASK, &before_, nullptr);
}

void LargeThread::join() {
  if (!started_ || joined_) return;
  ::pthread_join(thread_, nullptr);
  joined_ = true;
  if (signals_ == Signals::follow) ::pthread_sigmask(SIG_SETMASK, &before_, nullptr);
}

void* LargeThread::enter(void* self) {
  auto& thread = *static_cast<LargeThread*>(self);
  if (thread.signals_ == Signals::follow) ::pthread_sigmask(SIG_SETMASK, &thread.before_, nullptr);
  thread.run_();
  return nullptr;
}

}  // namespace mm

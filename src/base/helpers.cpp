#include "base/helpers.hpp"

#include <sched.h>

#include <algorithm>
#include <utility>

namespace mm {

std::size_t useful_threads() {
  constexpr int most = 4;
  cpu_set_t ours;
  CPU_ZERO(&ours);
  if (::sched_getaffinity(0, sizeof ours, &ours) != 0) return 1;
  return static_cast<std::size_t>(std::clamp(CPU_COUNT(&ours), 1, most));
}

Helpers::Helpers(std::size_t count) {
  while (threads_.size() < count) {
    threads_.emplace_back([this] { serve(); });
    if (threads_.back().started()) continue;
    threads_.pop_back();
    return;
  }
}

Helpers::~Helpers() {
  {
    const std::lock_guard lock(mutex_);
    ending_ = true;
  }
  called_.notify_all();
  for (LargeThread& thread : threads_) thread.join();
}

void Helpers::start(std::size_t count, std::function<Remains()> work) {
  {
    const std::lock_guard lock(mutex_);
    work_ = std::move(work);
    to_begin_ = at_work_ = std::min(count, size());
  }
  called_.notify_all();
}

void Helpers::wait() {
  std::unique_lock lock(mutex_);
  at_work_ -= std::exchange(to_begin_, 0);
  done_.wait(lock, [&] { return at_work_ == 0; });
}

void Helpers::serve() {
  {
    const Remains first = std::make_shared<char>();
  }  // the allocator makes room for a thread when first asked
  std::unique_lock lock(mutex_);
  while (true) {
    called_.wait(lock, [&] { return to_begin_ != 0 || ending_; });
    if (to_begin_ == 0) return;
    --to_begin_;
    lock.unlock();
    Remains remains = work_();
    lock.lock();
    if (--at_work_ == 0) done_.notify_one();
    lock.unlock();
    remains.reset();
    lock.lock();
  }
}

}  // namespace mm

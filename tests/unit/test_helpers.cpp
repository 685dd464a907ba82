// Threads that wait for work: each begins at most once a call, all that began are done when wait() returns,
// and what they leave is taken apart.
#include <doctest/doctest.h>

#include <algorithm>
#include <atomic>
#include <memory>

#include "base/helpers.hpp"

using mm::Helpers;

TEST_CASE("when the wait is over, all that began is done and nothing begins any more") {
  Helpers helpers(3);
  std::size_t most = 0;
  for (int round = 0; round < 500; ++round) {
    std::atomic<std::size_t> begun{0}, done{0};
    const std::size_t count = static_cast<std::size_t>(round) % 5;
    helpers.start(count, [&]() -> Helpers::Remains {
      ++begun;
      ++done;
      return nullptr;
    });
    if (round % 2 == 0) {
      while (begun < std::min(count, helpers.size())) {
      }
    }
    helpers.wait();
    const std::size_t at_end = begun;
    CHECK(done == at_end);
    CHECK(at_end <= std::min(count, helpers.size()));
    most = std::max(most, at_end);
  }
  CHECK(most == helpers.size());
}

TEST_CASE("what work leaves is taken apart, at the latest with the helpers") {
  std::atomic<int> left{0};
  struct Leftover {
    explicit Leftover(std::atomic<int>& count) : count_(&count) { ++*count_; }
    ~Leftover() { --*count_; }
    Leftover(const Leftover&) = delete;
    Leftover& operator=(const Leftover&) = delete;
    std::atomic<int>* count_;
  };
  {
    Helpers helpers(2);
    for (int round = 0; round < 100; ++round) {
      helpers.start(2, [&] { return std::make_shared<Leftover>(left); });
      helpers.wait();
    }
  }
  CHECK(left == 0);
}

TEST_CASE("without helpers there is nothing to wait for") {
  Helpers helpers(0);
  bool run = false;
  helpers.start(4, [&]() -> Helpers::Remains {
    run = true;
    return nullptr;
  });
  helpers.wait();
  CHECK_FALSE(run);
}

// `check --json`: every finding of every build that was asked for.
#pragma once
#include "report/json_builds.hpp"
#include "report/no_choice.hpp"

namespace mm {

class CheckJson {
 public:
  void add(const Scene& scene, const Conclusion& conclusion);
  std::deque<std::string> text(int exit_status) { return builds_.text("check", exit_status); }

 private:
  JsonBuilds builds_;
};

}  // namespace mm

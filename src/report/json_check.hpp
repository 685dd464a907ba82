// `check --json`: every finding of every build that was asked for.
#pragma once
#include "report/json_parts.hpp"
#include "report/no_choice.hpp"

namespace mm {

class CheckJson {
 public:
  void add(const Scene& scene, const Conclusion& conclusion);
  std::string text(int exit_status) const { return builds_.text("check", exit_status); }

 private:
  JsonBuilds builds_;
};

}  // namespace mm

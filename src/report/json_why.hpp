// `why --json`: the findings that were asked about, each with its reason tree.
#pragma once
#include "report/json_builds.hpp"

namespace mm {

class WhyJson {
 public:
  /// `graph`: of the findings that no rule states, indices into Results::graph.
  void add(const Scene& scene, const std::vector<std::size_t>& findings,
           const std::vector<std::size_t>& graph);
  bool empty() const { return builds_.empty(); }
  std::deque<std::string> text(int exit_status) { return builds_.text("why", exit_status); }

 private:
  JsonBuilds builds_;
};

}  // namespace mm

// The page of `check`: one build, worst first, short.
#pragma once
#include <string>

#include "base/helpers.hpp"
#include "report/no_choice.hpp"

namespace mm {

struct PageOptions {
  bool colour = false;
  bool all = false;            // every finding in one line each, with its source
  Helpers* helpers = nullptr;  // who may write some of the sections
};

std::string check_page(const Scene& scene, const Conclusion& conclusion, const PageOptions& options);

}  // namespace mm

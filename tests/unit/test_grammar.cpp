// The grammar itself: no rule can loop without reading, and the two lists of unit names are one.
#include <doctest/doctest.h>

#include <algorithm>
#include <tao/pegtl/contrib/analyze.hpp>

#include "../../grammar/builds.hpp"
#include "base/unit_names.hpp"
#include "units/builtin_units.hpp"

TEST_CASE("no rule of the grammar can loop without progress") {
  CHECK(tao::pegtl::analyze<mm::grammar::file>(1) == 0);
}

TEST_CASE("the grammar knows exactly the built-in units") {
  std::vector<std::string_view> names;
  for (const mm::BuiltinUnit& unit : mm::builtin_units()) names.push_back(unit.name);
  std::sort(names.begin(), names.end());
  const std::vector<std::string_view> known(mm::builtin_unit_names.begin(), mm::builtin_unit_names.end());
  CHECK(known == names);
  CHECK(std::is_sorted(known.begin(), known.end()));
}

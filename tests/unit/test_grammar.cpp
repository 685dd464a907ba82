// The grammar itself: no rule can loop without reading. Not compiled with sanitizers, see
// tests/CMakeLists.txt.
#include <doctest/doctest.h>

#include <tao/pegtl/contrib/analyze.hpp>

#include "../../grammar/builds.hpp"

TEST_CASE("no rule of the grammar can loop without progress") {
  CHECK(tao::pegtl::analyze<mm::grammar::file>(1) == 0);
}

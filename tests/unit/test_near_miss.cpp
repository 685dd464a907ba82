#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "base/near_miss.hpp"

namespace {
std::string nearest(std::string_view wanted, const std::vector<std::string_view>& names) {
  return mm::nearest_name(wanted, names);
}
}  // namespace

TEST_CASE("nearest_name finds slips of the finger") {
  CHECK(nearest("circel", {"hole", "circle", "pad"}) == "circle");
  CHECK(nearest("lenght", {"length", "weight"}) == "length");
  CHECK(nearest("ofset", {"offset"}) == "offset");
  CHECK(nearest("mmm", {"m", "mm"}) == "mm");
}

TEST_CASE("nearest_name keeps quiet when nothing is near") {
  CHECK(nearest("wheel", {"axle", "gear"}) == "");
  CHECK(nearest("", {"a"}) == "");
  CHECK(nearest("wheel", {}) == "");
  CHECK(nearest(std::string(65, 'a'), {"aaa"}) == "");
}

TEST_CASE("the very word is no suggestion") {
  CHECK(nearest("bar", {"bar"}) == "");
  CHECK(nearest("bar", {"bar", "bars"}) == "bars");
}

TEST_CASE("ties go to the first candidate") { CHECK(nearest("bar", {"car", "far"}) == "car"); }

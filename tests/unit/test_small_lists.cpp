// Lists that save room against std::vector.
#include <doctest/doctest.h>

#include <random>
#include <string>

#include "base/ids.hpp"
#include "base/mostly_one.hpp"
#include "base/tight_list.hpp"

using namespace mm;

namespace {

template <class List, class T>
void check_same(const List& list, const std::vector<T>& known) {
  REQUIRE(list.size() == known.size());
  REQUIRE(list.empty() == known.empty());
  REQUIRE(std::vector<T>(list.begin(), list.end()) == known);
  for (std::size_t i = 0; i < known.size(); ++i) REQUIRE(list[i] == known[i]);
}

}  // namespace

TEST_CASE("a list that is mostly one, filled, changed, copied, moved and cleared in any order") {
  std::mt19937 source(7);
  MostlyOne<std::string> list;
  std::vector<std::string> known;
  for (int i = 0; i < 5'000; ++i) {
    const std::string text = std::to_string(source());
    switch (source() % 6) {
      case 0:
        list.clear();
        known.clear();
        break;
      case 1:
        if (!known.empty()) list[i % known.size()] = known[i % known.size()] = text;
        break;
      case 2: {
        MostlyOne<std::string> copy = list;
        copy.push_back(text);
        check_same(list, known);  // the copy is deep
        list = copy;
        known.push_back(text);
        break;
      }
      case 3: {
        MostlyOne<std::string> moved = std::move(list);
        list = std::move(moved);
        break;
      }
      default:
        list.push_back(text);
        known.push_back(text);
    }
    check_same(list, known);
  }
}

TEST_CASE("a tight list holds what it was made of") {
  std::mt19937 source(11);
  TightList<std::uint64_t> last;
  check_same(last, std::vector<std::uint64_t>{});
  for (int i = 0; i < 500; ++i) {
    std::vector<std::uint64_t> known(source() % 20);
    for (auto& item : known) item = source();
    const TightList<std::uint64_t> list{std::span<const std::uint64_t>(known)};
    check_same(list, known);
    CHECK((list == last) == (known == std::vector<std::uint64_t>(last.begin(), last.end())));
    last = list;
    check_same(last, known);
    TightList<std::uint64_t> moved = std::move(last);
    check_same(moved, known);
    last = std::move(moved);
  }
  static_assert(sizeof(TightList<Id<int>>) == sizeof(void*));
}

TEST_CASE("a range of ids is walked in order") {
  std::vector<std::uint32_t> met;
  for (const Id<int> id : IdRange<Id<int>>{Id<int>{7U}, 3}) met.push_back(id.index);
  CHECK(met == std::vector<std::uint32_t>{7, 8, 9});
  for (const Id<int> id : IdRange<Id<int>>{})
    FAIL("nothing is in an empty range, but ", id.index, " was met");
}

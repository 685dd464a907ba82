// Numbers by cell against a map of the standard library.
#include <doctest/doctest.h>

#include <map>
#include <random>

#include "evaluate/cell_map.hpp"

using namespace mm;

TEST_CASE("numbers by cell, put in, changed, taken out and cleared in any order") {
  std::mt19937 source(5);
  const auto random = [&] { return static_cast<std::uint32_t>(source()); };
  for (const std::uint32_t cells : {3U, 60U, 1000U, 100'000U}) {
    CellMap map;
    std::map<std::uint32_t, std::uint32_t> known;
    for (int i = 0; i < 20'000; ++i) {
      // close together, as the cells of a joint are, and a table's size apart
      const std::uint32_t cell = random() % 4 == 0 ? (random() % 4) * 128 % cells : random() % cells;
      const std::uint32_t what = random() % 1000;
      if (what == 0) {
        map.clear();
        known.clear();
      } else if (what < 500) {
        map.set(CellId{cell}, what);
        known[cell] = what;
      } else {
        map.erase(CellId{cell});
        known.erase(cell);
      }
      const std::uint32_t asked = random() % cells;
      const auto found = known.find(asked);
      REQUIRE(map.find(CellId{asked}) == (found == known.end() ? CellMap::none : found->second));
      REQUIRE(map.size() == known.size());
    }
    for (const auto& [cell, value] : known) REQUIRE(map.find(CellId{cell}) == value);
  }
}

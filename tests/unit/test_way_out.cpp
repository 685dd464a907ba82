// The search for a combination that nothing forbids, against trying them all.
#include <doctest/doctest.h>

#include <deque>
#include <random>

#include "report/way_out.hpp"

using namespace mm;

namespace {

constexpr std::size_t plenty = 1'000'000;

struct Puzzle {
  std::vector<std::uint32_t> sizes;
  std::deque<Forbidden> forbidden;
};

Puzzle random_puzzle(std::mt19937& random) {
  const auto up_to = [&](std::uint32_t most) { return std::uniform_int_distribution<>(0, most)(random); };
  Puzzle out;
  const int variables = 2 + up_to(5);
  for (int v = 0; v < variables; ++v) out.sizes.push_back(1 + up_to(2));
  const int many = up_to(9);
  for (int i = 0; i < many; ++i) {
    Forbidden one;
    for (int v = 0; v < variables; ++v)
      if (up_to(2) == 0) one.variables.push_back(v);
    if (one.variables.empty()) continue;
    const int combinations = 1 + up_to(5);
    for (int c = 0; c < combinations; ++c) {
      std::vector<std::uint32_t> values;
      for (const std::size_t v : one.variables) values.push_back(up_to(out.sizes[v] - 1));
      one.bad[values] = up_to(3) != 0;
    }
    out.forbidden.push_back(std::move(one));
  }
  return out;
}

bool some_way(const Puzzle& puzzle, const WaySearch::Chosen& chosen) {
  std::size_t combinations = 1;
  for (const std::uint32_t size : puzzle.sizes) combinations *= size;
  for (std::size_t n = 0; n < combinations; ++n) {
    std::vector<std::uint32_t> values;
    std::size_t rest = n;
    for (const std::uint32_t size : puzzle.sizes) {
      values.push_back(static_cast<std::uint32_t>(rest % size));
      rest /= size;
    }
    bool good = true;
    for (const Forbidden* one : chosen) {
      std::vector<std::uint32_t> its;
      for (const std::size_t v : one->variables) its.push_back(values[v]);
      const auto found = one->bad.find(its);
      good = good && (found == one->bad.end() || !found->second);
    }
    if (good) return true;
  }
  return false;
}

}  // namespace

TEST_CASE("a way out is found where there is one, and only there") {
  std::mt19937 random(11);
  std::size_t with = 0, without = 0;
  for (int i = 0; i < 3000; ++i) {
    const Puzzle puzzle = random_puzzle(random);
    WaySearch search(plenty, 10 * plenty);
    for (const std::uint32_t size : puzzle.sizes) search.add_variable(size);
    WaySearch::Chosen chosen;
    for (const Forbidden& one : puzzle.forbidden) chosen.push_back(&one);
    for (int round = 0; round < 2; ++round) {  // the second on a part of them, by the same search
      bool searched_all = false;
      const bool found = search.way_out(chosen, searched_all);
      CHECK(searched_all);
      CHECK(found == some_way(puzzle, chosen));
      ++(found ? with : without);
      if (!chosen.empty()) chosen.erase(chosen.begin());
    }
  }
  CHECK(with > 500);
  CHECK(without > 500);
}

TEST_CASE("what shares no variable is searched apart") {
  WaySearch search(plenty, plenty);
  std::deque<Forbidden> all;
  for (std::size_t v = 0; v < 200; ++v) search.add_variable(3);
  // 199 that leave two values each, and one that leaves none: together 2^199 combinations
  for (std::size_t v = 0; v < 200; ++v) {
    all.push_back({{v}, {{{0}, true}}});
    if (v == 150) {
      all.push_back({{v}, {{{1}, true}}});
      all.push_back({{v}, {{{2}, true}}});
    }
  }
  WaySearch::Chosen chosen;
  for (const Forbidden& one : all) chosen.push_back(&one);
  bool searched_all = false;
  CHECK_FALSE(search.way_out(chosen, searched_all));
  CHECK(searched_all);
  const auto apart = search.apart(chosen);
  REQUIRE(apart.size() == 200);
  CHECK(apart[150].size() == 3);
}

TEST_CASE("what is looked at counts, not only what is set") {
  constexpr std::size_t many = 10'000;
  WaySearch search(1000, 2000);
  search.add_variable(2);
  std::deque<Forbidden> all;
  for (std::size_t i = 0; i < many; ++i) all.push_back({{0}, {{{0}, false}, {{1}, i + 1 == many}}});
  all.push_back({{0}, {{{0}, true}}});
  WaySearch::Chosen chosen;
  for (const Forbidden& one : all) chosen.push_back(&one);
  bool searched_all = true;
  CHECK_FALSE(search.way_out(chosen, searched_all));
  CHECK_FALSE(searched_all);
  for (int i = 0; i < 2; ++i) CHECK_FALSE(search.way_out(chosen, searched_all));
  CHECK(search.spent());
}

TEST_CASE("a limit that is met first is told") {
  std::deque<Forbidden> all;
  WaySearch search(50, 120);
  for (std::size_t v = 0; v < 12; ++v) search.add_variable(2);
  // the first eleven are free, the last is forbidden either way as soon as it is seen with the first
  for (std::size_t v = 0; v + 1 < 12; ++v) all.push_back({{v, v + 1}, {}});
  all.push_back({{0, 11}, {{{0, 0}, true}, {{0, 1}, true}, {{1, 0}, true}, {{1, 1}, true}}});
  WaySearch::Chosen chosen;
  for (const Forbidden& one : all) chosen.push_back(&one);
  bool searched_all = true;
  CHECK_FALSE(search.way_out(chosen, searched_all));
  CHECK_FALSE(searched_all);
  CHECK_FALSE(search.spent());
  for (int i = 0; i < 2; ++i) CHECK_FALSE(search.way_out(chosen, searched_all));
  CHECK(search.spent());
  CHECK_FALSE(search.way_out(chosen, searched_all));
  CHECK_FALSE(searched_all);
}

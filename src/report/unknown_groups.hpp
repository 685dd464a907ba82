// Unknowns gathered by the value that is missing or too coarse, not by rule.
#pragma once
#include <algorithm>
#include <set>

#include "report/fold.hpp"

namespace mm {

inline constexpr const char* as_it_is = "as it is now";

struct Waiting {
  const Summary* summary = nullptr;
  std::size_t case_index = 0;
  const Blame* blame = nullptr;
  std::string candidate;  // "alloy_15": only this choice waits, or waits so
  std::string state;      // as_it_is, "after O1": planned work makes it otherwise; "" where it does not
};

struct UnknownGroup {
  CellId cell;  // of the first that waits
  EntityId entity;
  std::uint32_t attribute = 0;
  bool missing = false;
  std::optional<Rational> needed_half_width;  // least over all that wait
  std::vector<Symbol> places;
  std::vector<Waiting> waiting;
};

/// Verdicts that wait for a value, each once.
struct WaitCount {
  std::size_t needs = 0, shoulds = 0, others = 0;
  std::size_t total() const { return needs + shoulds + others; }
  /// More needs first, then more of any weight.
  bool before(const WaitCount& other) const {
    return needs != other.needs ? needs > other.needs : total() > other.total();
  }
};
WaitCount count_waits(const std::vector<const UnknownGroup*>& groups);
/// Sorts by what `count_of` says of each, asked once; equals stay in their order.
template <class List, class CountOf>
void most_awaited_first(List& list, CountOf count_of) {
  std::vector<std::pair<WaitCount, std::size_t>> order;
  for (const auto& item : list) order.emplace_back(count_of(item), order.size());
  std::stable_sort(order.begin(), order.end(),
                   [](const auto& a, const auto& b) { return a.first.before(b.first); });
  List sorted;
  for (const auto& [count, at] : order) sorted.push_back(std::move(list[at]));
  list = std::move(sorted);
}
/// "3 wait", "1 waits, a should", "3 wait, 1 of them a need".
std::string wait_text(const WaitCount& count);

struct Unknowns {
  std::vector<UnknownGroup> groups;  // what most waits for first, then in order of first use
  std::vector<Waiting> unplaced;     // no single value is known to settle them
};

/// Candidates (fit, candidate) that nobody need ask anything of any more.
using FallenChoices = std::set<std::pair<std::uint32_t, std::uint32_t>>;
Unknowns group_unknowns(const Scene& scene, const Summaries& summaries, const FallenChoices& fallen = {});

const AttributeDef& attribute_of(const Scene& scene, const UnknownGroup& group);
/// The candidate of a slot that has this value, as index of the build's parts; no_reg for a part that stands
/// by itself.
std::uint32_t candidate_with(const Scene& scene, EntityId entity, CellId cell);
/// "wheel.mount.bore"
std::string group_name(const Scene& scene, const UnknownGroup& group);
/// Words, sizes or yes and no that surely fit.
std::vector<std::string> fitting_words(const Scene& scene, const Blame& blame);
/// What answer means what: "41.2 mm or more fits, 40.8 mm or less does not", "M10x1.0 fits".
std::string answers_text(const Scene& scene, const Blame& blame);
struct Answers {
  std::string text;
  bool by_state = false;                      // each state of the planned work has its own
  bool by_candidate = false;                  // each candidate has its own
  std::optional<Rational> needed_half_width;  // for all of it together, where what fits is narrow
};
/// The same for all that waits: what fits fits all of it, and what does not fails some. No text where that
/// cannot be said in a few words.
Answers group_answers(const Scene& scene, const UnknownGroup& group);
/// Names of the other values that a verdict turns on, most influential first: four, and how many more.
std::string others_text(const Scene& scene, const std::vector<Blame>& blames, const std::string& but);
/// "spoke_clearance, lug_circle (with alloy_15) at rear_left": what waits, each requirement once.
std::string waiting_text(const Scene& scene, const std::vector<Waiting>& waiting);

}  // namespace mm

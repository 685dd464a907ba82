// Is there a combination of values that none of some forbidden ones is part of? What shares no variable is
// searched apart, so that many small questions stay small.
#pragma once
#include <cstddef>
#include <cstdint>
#include <map>
#include <vector>

namespace mm {

/// Combinations of the values of a few variables that must not be.
struct Forbidden {
  std::vector<std::size_t> variables;              // ascending, at least one
  std::map<std::vector<std::uint32_t>, bool> bad;  // values -> forbidden
};

/// A depth-first search that sets one variable after another and turns back as soon as what is forbidden is
/// complete. It stops at a stated number of steps, of one search and of all: a value that is set is one, and
/// so are sixteen of the forbidden that are looked at.
class WaySearch {
 public:
  using Chosen = std::vector<const Forbidden*>;

  WaySearch(std::size_t most_steps, std::size_t most_in_all)
      : most_steps_(most_steps), most_in_all_(most_in_all) {}

  std::size_t add_variable(std::uint32_t size);  // its values: 0 to size - 1
  /// Some combination is forbidden by none of these. `searched_all` is lowered where a limit was met first.
  bool way_out(const Chosen& chosen, bool& searched_all);
  /// No more is searched.
  bool spent() const { return steps_ >= most_in_all_; }
  /// Those that hang together by their variables, in the order of their first; each in the given order.
  std::vector<Chosen> apart(const Chosen& chosen);

 private:
  bool run(const Chosen& together, std::size_t& left, bool& searched_all);
  bool broken(const Forbidden& forbidden) const;

  std::size_t most_steps_, most_in_all_;
  static constexpr std::size_t looks_a_step = 16;
  std::size_t steps_ = 0;              // of all searches
  std::size_t looks_ = 0;              // that make no step yet
  std::vector<std::uint32_t> sizes_;   // by variable
  std::vector<std::uint32_t> values_;  // by variable, while searching
  std::vector<Chosen> ending_;         // by the last variable that they read; empty between searches
  std::vector<std::size_t> group_;     // by variable, while dividing
};

}  // namespace mm

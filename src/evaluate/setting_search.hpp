// Settings of some knobs, tried in one claim: one by one where they are few, else by stretches.
#pragma once
#include <deque>

#include "evaluate/search.hpp"
#include "evaluate/setting_list.hpp"

namespace mm {

struct Knob {
  std::size_t variable = 0;
  CellId cell;
  SettingList settings;  // empty: any value of its range
};

struct SettingRun {
  std::size_t first, last;  // both hold, and all between
};

std::vector<SettingRun> runs_that_hold(const std::vector<Verdict>& found);

/// What the settings of all knobs together come to.
struct Found {
  bool any_holds = false, any_fails = false, any_open = false;
  bool may_pass = false;         // with some setting, in some world
  bool one_by_one = false;       // each setting was tried by itself
  std::vector<SettingRun> runs;  // of one knob: those that hold, ascending

  void take(Verdict verdict, const SettingRun& run) {
    any_fails = any_fails || verdict == Verdict::conflict;
    any_open = any_open || verdict == Verdict::unknown;
    if (!passes(verdict)) return;
    any_holds = true;
    runs.push_back(run);
  }
  bool differ() const { return any_open || (any_holds && any_fails); }
};

class SettingSearch {
 public:
  SettingSearch(Bench& bench, const Claim& claim, const Variables& variables, Search& search,
                const Inspection& inspected, const std::vector<Knob>& knobs);
  Found run();

 private:
  using Stretch = std::vector<SettingRun>;  // of each knob, from its first to its last

  static bool cut(const Stretch& stretch, std::deque<Stretch>& todo);
  Verdict look(const Stretch& stretch);
  bool all_hold(std::size_t first, std::size_t last) { return passes(look({SettingRun{first, last}})); }
  std::size_t probe_at(std::size_t knob, std::size_t i) const;
  const Leaf* one_way() const;
  void try_ends(const Leaf& leaf);
  std::vector<Verdict> probe();
  void try_all();
  void widen(const std::vector<Verdict>& probed);
  void cut_up(bool each);

  Bench& bench_;
  const Claim& claim_;
  const Variables& variables_;
  Search& search_;
  const Inspection& inspected_;
  const std::vector<Knob>& knobs_;
  bool closely_ = false;    // also stretches, by what comparisons have to do with each other
  Bits wanted_ = anything;  // of comparisons, while a stretch is looked at
  bool all_known_ = true;   // but for the settings, and for words
  Stretch whole_;
  std::size_t together_ = 1;
  Found found_;
};

}  // namespace mm

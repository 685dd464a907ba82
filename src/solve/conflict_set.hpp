// Requirements that can each be met but not all together, reduced to smallest sets.
#pragma once
#include <vector>

#include "evaluate/evaluate.hpp"

namespace mm {

struct ConflictSets {
  std::vector<ConflictSet> sets;
  std::vector<std::uint32_t> not_settled;  // a finding of each group whose search came to no end
  bool out_of_steps = false;               // more of them may settle some
};

/// Looks among the needs that are open (unknown, or depending on a setting) as it is now, and with all
/// planned work done; that read no slot and are not waived. Every set is proved: no world of its values meets
/// all members; and it is smallest: without any one member the rest has a world, which was found. What cannot
/// be proved within the steps is not reported. Which sets are found hangs on what the needs say and are
/// called, not on their order.
///
/// `today` as 2026-03-14: a waiver that ended before counts no more; "": none has ended.
ConflictSets find_conflict_sets(const Project& project, const Results& results, const Names& names,
                                const std::string& today = {}, std::int64_t steps = 100'000'000);

}  // namespace mm

// Requirements that are open, for whoever asks whether they can hold together.
#pragma once
#include <string>
#include <vector>

#include "evaluate/evaluate.hpp"
#include "evaluate/search.hpp"

namespace mm {

/// A requirement that is open, with the values that it hangs on.
struct Member {
  std::uint32_t finding = 0;
  std::size_t case_index = 0;
  Claim claim;
  Variables variables;  // empty until they are collected in a state of the build
  std::vector<CellId> open;
};

inline constexpr std::int64_t member_steps = 3'000'000;  // to look at one, or at several together

/// Fewer than two are open, now or with planned work: most builds.
bool are_few(const Project& project, const Results& results);
/// The member's variables, in the state of the build that the bench is in, whose reads are theirs.
void collect(Bench& bench, Member& member);
/// The same of a new one, with the values that it hangs on in that state.
void collect_anew(Bench& bench, Member& member);
/// The needs that are open now, or with all planned work done, which the bench of `later` is then told of;
/// that read no slot and are not waived; of those of now only such as have an open value in common with
/// another. `today`: see find_conflict_sets. In an order that no order of the text moves.
std::vector<Member> open_members(const Project& project, const Results& results, const Names& names,
                                 const std::string& today, Bench* later);

}  // namespace mm

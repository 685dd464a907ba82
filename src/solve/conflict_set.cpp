// Open requirements pull on shared values. They are grouped by the open cells that they share; a group is
// searched for one world that meets all of its members. When there is surely none, it is halved down to the
// members that it takes (after Junker, QuickXplain, 2004, from memory): what is left is a smallest set. Where
// the search of a whole group comes to no end, twos and threes of it that share a value are looked at by
// themselves.
#include "solve/conflict_set.hpp"

#include <algorithm>
#include <numeric>

#include "evaluate/cases.hpp"
#include "solve/world_search.hpp"

namespace mm {

namespace {

constexpr std::size_t max_members = 2'000, most_for_threes = 96;
constexpr std::int64_t group_steps = member_steps, few_group_steps = 200'000;

using Group = std::vector<std::size_t>;  // places in the list of members

class Solver {
 public:
  /// `planned`: reworks that count as done.
  Solver(const Project& project, const Results& results, const Names& names, const std::string& today,
         Case planned, std::int64_t steps)
      : results_(results), search_(*results.index), planned_(std::move(planned)), steps_left_(steps) {
    enter(planned_);
    members_ =
        open_members(project, results, names, today, planned_.reworks.empty() ? nullptr : &search_.bench());
  }

  ConflictSets run() {
    ConflictSets out;
    for (Group& group : groups()) {
      if (group.size() < 2 || !worth_it(group)) continue;
      if (group.size() > max_members) {
        out.not_settled.push_back(members_[group.front()].finding);
        continue;
      }
      if (planned_.reworks.empty())  // else they are collected already
        for (const std::size_t m : group) collect(search_.bench(), members_[m]);
      // One group may hold several sets: take a set's first member away and look again.
      Answer answer = Answer::impossible;
      while (group.size() >= 2 && (answer = look(group, group_steps)) == Answer::impossible) {
        const Group set = smallest(needed({}, group, false));
        if (set.size() < 2) break;
        tell(set, out);
        std::erase(group, set.front());
      }
      if (group.size() < 2 || answer == Answer::possible) continue;
      const std::size_t before = out.sets.size();
      find_small(group, out);
      if (out.sets.size() == before) out.not_settled.push_back(members_[group.front()].finding);
    }
    out.out_of_steps = steps_left_ <= 0;
    return out;
  }

 private:
  void enter(const Case& state) { enter_case(search_.bench().index, search_.bench().world, state); }

  /// Without the planned work it is what it is now, and that is known.
  bool worth_it(const Group& group) const {
    return planned_.reworks.empty() ||
           std::any_of(group.begin(), group.end(), [&](std::size_t m) { return !reworks_of(m).empty(); });
  }

  const Seldom<std::uint32_t>& reworks_of(std::size_t member) const {
    return results_.findings[members_[member].finding].reworks;
  }

  /// The planned reworks that members read.
  Case work_on(const Group& set) const {
    Case work;
    for (const std::size_t m : set)
      for (const std::uint32_t rework : reworks_of(m))
        if (std::find(work.reworks.begin(), work.reworks.end(), rework) == work.reworks.end())
          work.reworks.push_back(rework);
    std::sort(work.reworks.edit().begin(), work.reworks.edit().end());
    return work;
  }

  Answer look(const Group& group, std::int64_t steps) {
    std::vector<const Member*> members;
    for (const std::size_t m : group) members.push_back(&members_[m]);
    return look_at(members, steps);
  }

  Answer look_at(const std::vector<const Member*>& members, std::int64_t steps) {
    steps = std::min(steps, steps_left_);
    if (steps <= 0) return Answer::open;
    const Answer answer = search_.look(members, steps);
    steps_left_ -= std::max<std::int64_t>(search_.bench().steps_used(steps), 1);
    return answer;
  }

  /// Of a group that with `given` has no world, members that with `given` have none either. `grown`: `given`
  /// is not what it was when it had one.
  Group needed(const Group& given, const Group& group, bool grown) {
    if (grown && look(given, group_steps) == Answer::impossible) return {};
    if (group.size() <= 1) return group;
    const auto middle = group.begin() + static_cast<std::ptrdiff_t>(group.size() / 2);
    const Group first(group.begin(), middle), second(middle, group.end());
    const auto with = [](Group some, const Group& others) {
      some.insert(some.end(), others.begin(), others.end());
      return some;
    };
    const Group of_second = needed(with(given, first), second, true);
    return with(needed(with(given, of_second), first, !of_second.empty()), of_second);
  }

  bool share(std::size_t a, std::size_t b) const {
    return std::any_of(members_[a].open.begin(), members_[a].open.end(), [&](CellId cell) {
      return std::find(members_[b].open.begin(), members_[b].open.end(), cell) != members_[b].open.end();
    });
  }

  /// Sets of two, then of three that no set of two lies in; each member is in one set at most.
  void find_small(const Group& group, ConflictSets& out) {
    std::vector<char> taken(members_.size(), 0);
    const std::int64_t enough = steps_left_ / 2;
    const auto impossible = [&](const Group& some) {
      return steps_left_ > enough && look(some, few_group_steps) == Answer::impossible;
    };
    const auto take = [&](const Group& some) {
      const Group set = smallest(some);
      if (set.size() < 2) return;
      tell(set, out);
      for (const std::size_t m : set) taken[m] = 1;
    };
    for (std::size_t i = 0; i < group.size(); ++i)
      for (std::size_t j = i + 1; j < group.size(); ++j) {
        const std::size_t a = group[i], b = group[j];
        if (taken[a] == 0 && taken[b] == 0 && share(a, b) && impossible({a, b})) take({a, b});
      }
    if (group.size() > most_for_threes) return;
    for (std::size_t i = 0; i < group.size(); ++i)
      for (std::size_t j = i + 1; j < group.size(); ++j)
        for (std::size_t k = j + 1; k < group.size(); ++k) {
          const std::size_t a = group[i], b = group[j], c = group[k];
          if (taken[a] != 0 || taken[b] != 0 || taken[c] != 0) continue;
          const bool tied = share(a, b) ? share(a, c) || share(b, c) : share(a, c) && share(b, c);
          if (tied && impossible({a, b, c})) take({a, b, c});
        }
  }

  std::vector<Group> groups() const {
    std::vector<std::size_t> root(members_.size());
    std::iota(root.begin(), root.end(), std::size_t{0});
    const auto find = [&](std::size_t m) {
      while (root[m] != m) m = root[m] = root[root[m]];
      return m;
    };
    std::vector<std::pair<CellId, std::size_t>> uses;
    for (std::size_t m = 0; m < members_.size(); ++m)
      for (const CellId cell : members_[m].open) uses.emplace_back(cell, m);
    std::sort(uses.begin(), uses.end());
    for (std::size_t i = 1; i < uses.size(); ++i)
      if (uses[i].first == uses[i - 1].first) {
        const std::size_t a = find(uses[i].second), b = find(uses[i - 1].second);
        root[std::max(a, b)] = std::min(a, b);
      }
    std::vector<Group> out(members_.size());
    for (std::size_t m = 0; m < members_.size(); ++m) out[find(m)].push_back(m);
    return out;
  }

  /// Members without which the rest is still impossible are dropped; whatever stays is needed, with a world
  /// as proof. Empty where that could not be settled.
  Group smallest(Group group) {
    for (std::size_t i = 0; i < group.size();) {
      Group rest = group;
      rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(i));
      const Answer without = rest.empty() ? Answer::possible : look(rest, group_steps);
      if (without == Answer::open) return {};
      if (without == Answer::impossible)
        group = std::move(rest);
      else
        ++i;
    }
    return group;
  }

  void tell(const Group& set, ConflictSets& told) {
    ConflictSet out;
    for (const std::size_t m : set) {
      out.members.emplace_back(members_[m].finding, members_[m].case_index);
      for (const CellId cell : members_[m].open) {
        const auto uses = std::count_if(set.begin(), set.end(), [&](std::size_t other) {
          return std::find(members_[other].open.begin(), members_[other].open.end(), cell) !=
                 members_[other].open.end();
        });
        if (uses > 1 && std::find(out.shared.begin(), out.shared.end(), cell) == out.shared.end())
          out.shared.push_back(cell);
      }
    }
    std::sort(out.members.begin(), out.members.end());  // in the order of the text
    std::sort(out.shared.begin(), out.shared.end());
    const Case work = work_on(set);
    const std::vector<std::uint32_t>& reworks = work.reworks.get();
    if (planned_.reworks.empty()) {
      const Answer later = reworks.empty() ? Answer::impossible : answer_after(work, set);
      if (later != Answer::impossible) out.after = reworks;
      out.after_unsettled = later == Answer::open;
    } else {
      if (reworks.empty()) return;  // told of today
      out.in_state = reworks;
    }
    told.sets.push_back(std::move(out));
  }

  /// Whether the members can hold once that is done.
  Answer answer_after(const Case& work, const Group& set) {
    Bench& bench = search_.bench();
    enter(work);
    std::vector<Member> later;
    for (const std::size_t m : set) {
      Member& member = later.emplace_back();
      member.claim = members_[m].claim;
      collect_anew(bench, member);
    }
    std::vector<const Member*> members;
    for (const Member& member : later) members.push_back(&member);
    const Answer answer = look_at(members, group_steps);
    enter(planned_);
    return answer;
  }

  const Results& results_;
  WorldSearch search_;
  std::vector<Member> members_;
  const Case planned_;
  std::int64_t steps_left_;
};

}  // namespace

ConflictSets find_conflict_sets(const Project& project, const Results& results, const Names& names,
                                const std::string& today, std::int64_t steps) {
  ConflictSets out;
  if (are_few(project, results)) return out;
  Case planned;
  for (const bool later : {false, true}) {
    if (later)
      for (std::uint32_t r = 0; r < results.index->build.reworks.size(); ++r)
        if (!results.index->build.reworks[r].done) planned.reworks.push_back(r);
    if (later && planned.reworks.empty()) break;
    ConflictSets found = Solver(project, results, names, today, planned, steps).run();
    std::move(found.sets.begin(), found.sets.end(), std::back_inserter(out.sets));
    for (const std::uint32_t finding : found.not_settled)
      if (std::find(out.not_settled.begin(), out.not_settled.end(), finding) == out.not_settled.end())
        out.not_settled.push_back(finding);
    out.out_of_steps = out.out_of_steps || found.out_of_steps;
  }
  return out;
}

}  // namespace mm

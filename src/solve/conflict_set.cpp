// Open requirements pull on shared values. They are grouped by the open cells that they share; a group is
// searched for one world that meets all of its members. When there is surely none, members are taken away one
// by one as long as the rest still has none: what is left is a smallest set. Where the search of a whole
// group comes to no end, twos and threes of it that share a value are looked at by themselves.
#include "solve/conflict_set.hpp"

#include <algorithm>
#include <numeric>

#include "evaluate/outcome.hpp"
#include "solve/world_search.hpp"

namespace mm {

namespace {

constexpr std::size_t max_members = 48;
constexpr std::int64_t group_steps = 3'000'000, few_group_steps = 200'000, all_few_steps = 20'000'000;

bool is_waived(const Build& build, const Finding& finding, const std::string& today) {
  if (finding.waiver == no_reg) return false;
  const std::string& until = build.waivers[finding.waiver].until;
  return until.empty() || today.empty() || until >= today;
}

using Group = std::vector<std::size_t>;  // places in the list of members

class Solver {
 public:
  Solver(const Project& project, const Results& results, const std::string& today)
      : results_(results), search_(*results.index) {
    const BuildIndex& index = *results.index;
    for (std::uint32_t f = 0; f < results.findings.size(); ++f) {
      const Finding& finding = results.findings[f];
      if (finding.cases.empty() || !finding.slots.empty() || is_waived(index.build, finding, today)) continue;
      const Verdict verdict = finding.cases[0].outcome.verdict;
      const RequirementDef& requirement = project.model.requirements[finding.requirement];
      if (requirement.weight != Weight::need || requirement.rule == no_reg) continue;
      if (verdict != Verdict::unknown && verdict != Verdict::setting) continue;
      Member member;
      member.finding = f;
      const RuleDef* rule = requirement.interface ? nullptr : &project.model.rules[requirement.rule];
      member.claim = {&requirement, rule, finding.binding};
      for (const CellId cell : finding.cases[0].outcome.reads)
        if (index.is_open(cell) && index.is_number(cell)) member.open.push_back(cell);
      if (!member.open.empty()) members_.push_back(std::move(member));
    }
  }

  ConflictSets run() {
    ConflictSets out;
    for (Group& group : groups()) {
      if (group.size() < 2 || group.size() > max_members) continue;
      for (const std::size_t m : group) collect(members_[m]);
      // One group may hold several sets: take a set's first member away and look again.
      Answer answer = Answer::impossible;
      while (group.size() >= 2 && (answer = look(group, group_steps)) == Answer::impossible) {
        const Group set = smallest(group);
        if (set.size() < 2) break;
        out.sets.push_back(report(set));
        std::erase(group, set.front());
      }
      if (group.size() < 2 || answer == Answer::possible) continue;
      const std::size_t before = out.sets.size();
      find_small(group, out);
      if (out.sets.size() == before) out.not_settled.push_back(members_[group.front()].finding);
    }
    return out;
  }

 private:
  /// The member's variables, in the present state of the build.
  void collect(Member& member) {
    Bench& bench = search_.bench();
    bench.set_steps(group_steps);
    bench.reads.start();
    member.variables.collect(bench, member.claim, bench.reads);
  }

  Answer look(const Group& group, std::int64_t steps) {
    std::vector<const Member*> members;
    for (const std::size_t m : group) members.push_back(&members_[m]);
    return search_.look(members, steps);
  }

  bool share(std::size_t a, std::size_t b) const {
    return std::any_of(members_[a].open.begin(), members_[a].open.end(), [&](CellId cell) {
      return std::find(members_[b].open.begin(), members_[b].open.end(), cell) != members_[b].open.end();
    });
  }

  /// Sets of two, then of three that no set of two lies in; each member is in one set at most.
  void find_small(const Group& group, ConflictSets& out) {
    std::vector<char> taken(members_.size(), 0);
    const auto impossible = [&](const Group& some) {
      if (few_steps_left_ <= 0) return false;
      few_steps_left_ -= few_group_steps;
      return look(some, few_group_steps) == Answer::impossible;
    };
    const auto take = [&](const Group& some) {
      const Group set = smallest(some);
      if (set.size() < 2) return;
      out.sets.push_back(report(set));
      for (const std::size_t m : set) taken[m] = 1;
    };
    for (std::size_t i = 0; i < group.size(); ++i)
      for (std::size_t j = i + 1; j < group.size(); ++j) {
        const std::size_t a = group[i], b = group[j];
        if (taken[a] == 0 && taken[b] == 0 && share(a, b) && impossible({a, b})) take({a, b});
      }
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
      if (uses[i].first == uses[i - 1].first) root[find(uses[i].second)] = find(uses[i - 1].second);
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

  ConflictSet report(const Group& set) {
    ConflictSet out;
    for (const std::size_t m : set) {
      out.members.emplace_back(members_[m].finding, 0);
      for (const CellId cell : members_[m].open) {
        const auto uses = std::count_if(set.begin(), set.end(), [&](std::size_t other) {
          return std::find(members_[other].open.begin(), members_[other].open.end(), cell) !=
                 members_[other].open.end();
        });
        if (uses > 1 && std::find(out.shared.begin(), out.shared.end(), cell) == out.shared.end())
          out.shared.push_back(cell);
      }
    }
    out.after = reworks_that_part(set);
    return out;
  }

  /// The planned reworks, all together, after which the members can hold; empty where they still cannot.
  std::vector<std::uint32_t> reworks_that_part(const Group& set) {
    Case planned;
    for (const std::size_t m : set)
      for (const std::uint32_t rework : results_.findings[members_[m].finding].reworks)
        if (std::find(planned.reworks.begin(), planned.reworks.end(), rework) == planned.reworks.end())
          planned.reworks.push_back(rework);
    if (planned.reworks.empty()) return {};
    std::sort(planned.reworks.edit().begin(), planned.reworks.edit().end());
    Bench& bench = search_.bench();
    enter_case(bench.index, bench.world, planned);
    std::vector<Member> later;
    for (const std::size_t m : set) {
      Member& member = later.emplace_back();
      member.claim = members_[m].claim;
      collect(member);
      for (const CellId cell : bench.reads.cells())
        if (bench.index.is_open(cell) && bench.index.is_number(cell)) member.open.push_back(cell);
    }
    std::vector<const Member*> members;
    for (const Member& member : later) members.push_back(&member);
    const bool possible = search_.look(members, group_steps) == Answer::possible;
    bench.world.reset();
    return possible ? planned.reworks.get() : std::vector<std::uint32_t>{};
  }

  const Results& results_;
  WorldSearch search_;
  std::vector<Member> members_;
  std::int64_t few_steps_left_ = all_few_steps;  // of a whole build, for twos and threes
};

/// A set needs two open needs; most builds are done here.
bool worth_a_look(const Project& project, const Results& results) {
  std::size_t open = 0;
  for (const Finding& finding : results.findings) {
    if (finding.cases.empty() || !finding.slots.empty()) continue;
    const Verdict verdict = finding.cases[0].outcome.verdict;
    if (verdict != Verdict::unknown && verdict != Verdict::setting) continue;
    if (project.model.requirements[finding.requirement].weight == Weight::need) ++open;
  }
  return open >= 2;
}

}  // namespace

ConflictSets find_conflict_sets(const Project& project, const Results& results, const std::string& today) {
  if (!worth_a_look(project, results)) return {};
  return Solver(project, results, today).run();
}

}  // namespace mm

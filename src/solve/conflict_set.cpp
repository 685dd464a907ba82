// Open requirements pull on shared values. They are grouped by the open cells that they share; a group is
// searched for one world that meets all of its members. When there is surely none, it is halved down to the
// members that it takes (after Junker, QuickXplain, 2004, from memory): what is left is a smallest set. Where
// the search of a whole group comes to no end, twos and threes of it that share a value are looked at by
// themselves.
#include "solve/conflict_set.hpp"

#include <algorithm>
#include <numeric>

#include "evaluate/outcome.hpp"
#include "solve/world_search.hpp"

namespace mm {

namespace {

constexpr std::size_t max_members = 2'000, most_for_threes = 96;
constexpr std::int64_t group_steps = 3'000'000, few_group_steps = 200'000;

bool is_waived(const Build& build, const Finding& finding, const std::string& today) {
  if (finding.waiver == no_reg) return false;
  const std::string& until = build.waivers[finding.waiver].until;
  return until.empty() || today.empty() || until >= today;
}

using Group = std::vector<std::size_t>;  // places in the list of members

class Solver {
 public:
  Solver(const Project& project, const Results& results, const Names& names, const std::string& today,
         std::int64_t steps)
      : results_(results), search_(*results.index), steps_left_(steps) {
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
    put_in_order(index, names);
  }

  ConflictSets run() {
    ConflictSets out;
    for (Group& group : groups()) {
      if (group.size() < 2) continue;
      if (group.size() > max_members) {
        out.not_settled.push_back(members_[group.front()].finding);
        continue;
      }
      for (const std::size_t m : group) collect(members_[m]);
      // One group may hold several sets: take a set's first member away and look again.
      Answer answer = Answer::impossible;
      while (group.size() >= 2 && (answer = look(group, group_steps)) == Answer::impossible) {
        const Group set = smallest(needed({}, group, false));
        if (set.size() < 2) break;
        out.sets.push_back(report(set));
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
    return look_at(members, steps);
  }

  Answer look_at(const std::vector<const Member*>& members, std::int64_t steps) {
    steps = std::min(steps, steps_left_);
    if (steps <= 0) return Answer::open;
    const Answer answer = search_.look(members, steps);
    steps_left_ -= std::max<std::int64_t>(search_.bench().steps_used(steps), 1);
    return answer;
  }

  /// By what they are called and stand on, which no order of the text moves.
  void put_in_order(const BuildIndex& index, const Names& names) {
    using Key = std::vector<std::string_view>;
    const auto name_of = [&](EntityId entity, Key& key) {
      const Instance& instance = index.build.instances[index.build.entities[entity].instance];
      key.push_back(names.text(instance.fit_name));
      key.push_back(instance.place ? names.text(instance.place) : std::string_view());
      const std::uint32_t face = index.build.entities[entity].face;
      key.push_back(face == no_reg ? std::string_view()
                                   : names.text(index.model.kinds[instance.kind].faces[face].name));
    };
    std::vector<std::pair<Key, std::size_t>> order;
    for (std::size_t m = 0; m < members_.size(); ++m) {
      Key key{names.text(members_[m].claim.requirement->name)};
      for (const EntityId entity : members_[m].claim.binding->locals)
        if (entity) name_of(entity, key);
      for (const auto& list : members_[m].claim.binding->lists)
        for (const EntityId entity : list) name_of(entity, key);
      order.emplace_back(std::move(key), m);
    }
    std::sort(order.begin(), order.end());
    std::vector<Member> sorted;
    for (const auto& [key, m] : order) {
      std::vector<std::pair<Key, CellId>> cells;
      for (const CellId cell : members_[m].open) {
        Key name{names.text(index.attribute(cell)->name)};
        name_of(index.owner(cell).entity, name);
        cells.emplace_back(std::move(name), cell);
      }
      std::sort(cells.begin(), cells.end());
      members_[m].open.clear();
      for (const auto& [name, cell] : cells) members_[m].open.push_back(cell);
      sorted.push_back(std::move(members_[m]));
    }
    members_ = std::move(sorted);
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
      out.sets.push_back(report(set));
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
    std::sort(out.members.begin(), out.members.end());  // in the order of the text
    std::sort(out.shared.begin(), out.shared.end());
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
    const bool possible = look_at(members, group_steps) == Answer::possible;
    bench.world.reset();
    return possible ? planned.reworks.get() : std::vector<std::uint32_t>{};
  }

  const Results& results_;
  WorldSearch search_;
  std::vector<Member> members_;
  std::int64_t steps_left_;
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

ConflictSets find_conflict_sets(const Project& project, const Results& results, const Names& names,
                                const std::string& today, std::int64_t steps) {
  if (!worth_a_look(project, results)) return {};
  return Solver(project, results, names, today, steps).run();
}

}  // namespace mm

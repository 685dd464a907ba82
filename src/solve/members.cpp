#include "solve/members.hpp"

#include <algorithm>

namespace mm {

namespace {

bool is_waived(const Build& build, const Finding& finding, const std::string& today) {
  return finding.waiver != no_reg && !build.waivers[finding.waiver].expired(today);
}

bool is_open(const Case& c) {
  return c.outcome.verdict == Verdict::unknown || c.outcome.verdict == Verdict::setting;
}

/// The case as it is now, or with all the planned work.
std::size_t case_of(const Finding& finding, bool later) {
  if (!later || finding.reworks.empty()) return 0;
  const auto all = std::find_if(finding.cases.begin(), finding.cases.end(),
                                [&](const Case& c) { return c.reworks.size() == finding.reworks.size(); });
  return static_cast<std::size_t>(all - finding.cases.begin());
}

bool is_open_number(const BuildIndex& index, CellId cell) {
  return index.is_open(cell) && index.is_number(cell);
}

template <class Cells>
void keep_open(const BuildIndex& index, const Cells& read, Member& member) {
  for (const CellId cell : read)
    if (is_open_number(index, cell)) member.open.push_back(cell);
}

struct OpenNeed {
  std::uint32_t finding;
  std::size_t case_index;
};

const TightList<CellId>& reads_of(const Results& results, const OpenNeed& need) {
  return results.findings[need.finding].cases[need.case_index].outcome.reads;
}

std::vector<OpenNeed> open_needs(const Project& project, const Results& results, const std::string& today,
                                 bool later) {
  std::vector<OpenNeed> needs;
  std::uint32_t next = 0;
  for (const Finding& finding : results.findings) {
    const std::uint32_t at = next++;
    if (finding.cases.empty() || !finding.slots.empty()) continue;
    if (finding.cases.size() == 1 && !is_open(finding.cases[0])) continue;  // nearly every one
    if (is_waived(results.index->build, finding, today)) continue;
    const std::size_t case_index = case_of(finding, later);
    if (case_index == finding.cases.size()) continue;  // not every combination was tried
    const RequirementDef& requirement = project.model.requirements[finding.requirement];
    if (requirement.weight != Weight::need || requirement.rule == no_reg) continue;
    if (is_open(finding.cases[case_index])) needs.push_back({at, case_index});
  }
  return needs;
}

/// Keeps those that have an open value in common with another one: no set holds any of the rest, which are
/// nearly all that a large build has.
void keep_sharing(const Results& results, std::vector<OpenNeed>& needs) {
  const BuildIndex& index = *results.index;
  std::vector<bool> used(index.build.cells.size()), shared(index.build.cells.size());
  for (const OpenNeed& need : needs)
    for (const CellId cell : reads_of(results, need)) {
      if (!is_open_number(index, cell)) continue;
      if (used[cell.index]) shared[cell.index] = true;
      used[cell.index] = true;
    }
  std::erase_if(needs, [&](const OpenNeed& need) {
    const TightList<CellId>& reads = reads_of(results, need);
    return std::none_of(reads.begin(), reads.end(), [&](CellId cell) { return shared[cell.index]; });
  });
}

/// By what they are called and stand on, which no order of the text moves.
void put_in_order(std::vector<Member>& members, const BuildIndex& index, const Names& names) {
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
  for (std::size_t m = 0; m < members.size(); ++m) {
    Key key{names.text(members[m].claim.requirement->name)};
    for (const EntityId entity : members[m].claim.binding->locals)
      if (entity) name_of(entity, key);
    for (const auto& list : members[m].claim.binding->lists)
      for (const EntityId entity : list) name_of(entity, key);
    order.emplace_back(std::move(key), m);
  }
  std::sort(order.begin(), order.end());
  std::vector<Member> sorted;
  sorted.reserve(members.size());
  for (const auto& [key, m] : order) {
    std::vector<std::pair<Key, CellId>> cells;
    for (const CellId cell : members[m].open) {
      Key name{names.text(index.attribute(cell)->name)};
      name_of(index.owner(cell).entity, name);
      cells.emplace_back(std::move(name), cell);
    }
    std::sort(cells.begin(), cells.end());
    members[m].open.clear();
    for (const auto& [name, cell] : cells) members[m].open.push_back(cell);
    sorted.push_back(std::move(members[m]));
  }
  members = std::move(sorted);
}

}  // namespace

bool are_few(const Project& project, const Results& results) {
  std::size_t open = 0;
  for (const Finding& finding : results.findings) {
    if (finding.cases.empty() || !finding.slots.empty()) continue;
    const bool may = std::any_of(finding.cases.begin(), finding.cases.end(), is_open);
    if (may && project.model.requirements[finding.requirement].weight == Weight::need && ++open == 2)
      return false;
  }
  return true;
}

void collect(Bench& bench, Member& member) {
  bench.set_steps(member_steps);
  bench.reads.start();
  member.variables.collect(bench, member.claim, bench.reads);
}

void collect_anew(Bench& bench, Member& member) {
  collect(bench, member);
  keep_open(bench.index, bench.reads.cells(), member);
}

std::vector<Member> open_members(const Project& project, const Results& results, const Names& names,
                                 const std::string& today, Bench* later) {
  std::vector<OpenNeed> needs = open_needs(project, results, today, later != nullptr);
  if (later == nullptr) keep_sharing(results, needs);
  std::vector<Member> members;
  const BuildIndex& index = *results.index;
  for (const OpenNeed& need : needs) {
    const Finding& finding = results.findings[need.finding];
    const RequirementDef& requirement = project.model.requirements[finding.requirement];
    Member member;
    member.finding = need.finding;
    member.case_index = need.case_index;
    const RuleDef* rule = requirement.interface ? nullptr : &project.model.rules[requirement.rule];
    member.claim = {&requirement, rule, finding.binding};
    if (later != nullptr)
      collect_anew(*later, member);
    else
      keep_open(index, reads_of(results, need), member);
    if (!member.open.empty()) members.push_back(std::move(member));
  }
  put_in_order(members, index, names);
  return members;
}

}  // namespace mm

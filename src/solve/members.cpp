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

template <class Cells>
void keep_open(const BuildIndex& index, const Cells& read, Member& member) {
  for (const CellId cell : read)
    if (index.is_open(cell) && index.is_number(cell)) member.open.push_back(cell);
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
  std::vector<Member> members;
  const BuildIndex& index = *results.index;
  for (std::uint32_t f = 0; f < results.findings.size(); ++f) {
    const Finding& finding = results.findings[f];
    if (finding.cases.empty() || !finding.slots.empty() || is_waived(index.build, finding, today)) continue;
    if (finding.cases.size() == 1 && !is_open(finding.cases[0])) continue;  // nearly every one
    const std::size_t case_index = case_of(finding, later != nullptr);
    if (case_index == finding.cases.size()) continue;  // not every combination was tried
    const Outcome& outcome = finding.cases[case_index].outcome;
    const RequirementDef& requirement = project.model.requirements[finding.requirement];
    if (requirement.weight != Weight::need || requirement.rule == no_reg) continue;
    if (!is_open(finding.cases[case_index])) continue;
    Member member;
    member.finding = f;
    member.case_index = case_index;
    const RuleDef* rule = requirement.interface ? nullptr : &project.model.rules[requirement.rule];
    member.claim = {&requirement, rule, finding.binding};
    if (later != nullptr)
      collect_anew(*later, member);
    else
      keep_open(index, outcome.reads, member);
    if (!member.open.empty()) members.push_back(std::move(member));
  }
  put_in_order(members, index, names);
  return members;
}

}  // namespace mm

#include "report/way_out.hpp"

#include <algorithm>
#include <numeric>

namespace mm {

std::size_t WaySearch::add_variable(std::uint32_t size) {
  sizes_.push_back(size);
  values_.push_back(0);
  ending_.emplace_back();
  group_.push_back(group_.size());
  return sizes_.size() - 1;
}

bool WaySearch::broken(const Forbidden& forbidden) const {
  std::vector<std::uint32_t> key;
  for (const std::size_t v : forbidden.variables) key.push_back(values_[v]);
  const auto found = forbidden.bad.find(key);
  return found != forbidden.bad.end() && found->second;
}

std::vector<WaySearch::Chosen> WaySearch::apart(const Chosen& chosen) {
  const auto root_of = [&](std::size_t v) {
    while (group_[v] != v) v = group_[v] = group_[group_[v]];
    return v;
  };
  for (const Forbidden* one : chosen)
    for (const std::size_t v : one->variables) group_[root_of(v)] = root_of(one->variables[0]);
  std::vector<Chosen> out;
  std::map<std::size_t, std::size_t> place_of;  // of a group, by its root
  for (const Forbidden* one : chosen) {
    const auto [at, is_new] = place_of.emplace(root_of(one->variables[0]), out.size());
    if (is_new) out.emplace_back();
    out[at->second].push_back(one);
  }
  for (const Forbidden* one : chosen)
    for (const std::size_t v : one->variables) group_[v] = v;
  return out;
}

bool WaySearch::run(const Chosen& together, std::size_t& left, bool& searched_all) {
  std::vector<std::size_t> variables;
  for (const Forbidden* one : together) {
    variables.insert(variables.end(), one->variables.begin(), one->variables.end());
    ending_[one->variables.back()].push_back(one);
  }
  std::sort(variables.begin(), variables.end());
  variables.erase(std::unique(variables.begin(), variables.end()), variables.end());
  std::vector<std::uint32_t> next(variables.size(), 0);  // the value to try
  std::size_t at = 0;
  bool dead_end = false;
  while (at < variables.size() && !dead_end && searched_all) {
    const std::size_t variable = variables[at];
    if (next[at] == sizes_[variable]) {
      next[at] = 0;
      dead_end = at == 0;
      if (!dead_end) --at;
      continue;
    }
    if (left == 0) {
      searched_all = false;
      continue;
    }
    --left;
    values_[variable] = next[at]++;
    const auto& ending = ending_[variable];
    const auto first = std::find_if(ending.begin(), ending.end(), [&](const Forbidden* one) {
      if (++looks_ == looks_a_step) {
        looks_ = 0;
        if (left == 0) return true;
        --left;
      }
      return broken(*one);
    });
    if (first == ending.end()) ++at;
  }
  for (const std::size_t variable : variables) ending_[variable].clear();
  return at == variables.size();
}

bool WaySearch::way_out(const Chosen& chosen, bool& searched_all) {
  const std::size_t granted = std::min(most_steps_, most_in_all_ - steps_);
  const std::size_t to_begin = chosen.size() / looks_a_step;
  searched_all = to_begin <= granted;
  std::size_t left = searched_all ? granted - to_begin : 0;
  if (!searched_all) {
    steps_ += granted;
    return false;
  }
  bool found = true;
  for (const Chosen& together : apart(chosen)) {
    bool searched = true;
    const bool here = run(together, left, searched);
    found = found && here;
    searched_all = searched_all && (here || searched);
    if (here || !searched) continue;
    searched_all = true;  // one that leaves no way is enough
    break;
  }
  steps_ += granted - left;
  return found;
}

}  // namespace mm
